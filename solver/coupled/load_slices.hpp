#pragma once

#include <Eigen/Core>
#include <vector>

#include "solver/thermal/thermal_mesh.hpp"

namespace cw {

/// Unknowns sorted into slices across the axis, by body: what a prediction of power is judged by.
/// Heat levels itself out across a slice long before the next update.
class LoadSlices {
 public:
  explicit LoadSlices(const ThermalMesh& mesh);

  /// How far two sets of nodal powers are apart, over `scale`: the greater of what they differ by
  /// in all and of half of what they differ by from slice to slice.
  [[nodiscard]] double distance(const Eigen::VectorXd& a, const Eigen::VectorXd& b,
                                double scale) const;

 private:
  static constexpr int count = 12;  ///< in a body
  std::vector<int> of_;
  std::size_t slices_;
};

}  // namespace cw
