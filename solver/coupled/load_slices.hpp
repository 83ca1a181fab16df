#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/thermal/thermal_mesh.hpp"

namespace cw {

/// Unknowns sorted by body into slices across the axis. A predicted power is compared slice by
/// slice: within a slice, heat spreads evenly long before the next update.
class LoadSlices {
 public:
  explicit LoadSlices(const ThermalMesh& mesh);

  /// Difference of two sets of nodal powers over `scale`: the difference of their sums, or half the
  /// sum of the differences of slices, whichever is larger.
  [[nodiscard]] double distance(const Eigen::VectorXd& a, const Eigen::VectorXd& b,
                                double scale) const;

 private:
  static constexpr int count = 12;  ///< slices per body
  std::vector<int> of_;
  std::size_t slices_;
};

}  // namespace cw
