#pragma once

#include <array>
#include <complex>

#include "solver/field/field_solution.hpp"
#include "solver/field/open_boundary.hpp"

namespace cw {

/// Flux density of a solved field anywhere in space: in the mesh from its triangles, outside the
/// open circle from the series that continues it.
class PointFlux {
 public:
  /// Both must outlive this. The mesh must end in an open circle.
  PointFlux(const Mesh& mesh, const FieldSolution& field);
  /// (B_r, B_z) [T] rms at r >= 0.
  [[nodiscard]] std::array<std::complex<double>, 2> operator()(Point p) const;

 private:
  const Mesh& mesh_;
  const FieldSolution& field_;
  Eigen::VectorXcd coefficients_;
};

}  // namespace cw
