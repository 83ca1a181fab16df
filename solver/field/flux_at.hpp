#pragma once

#include <array>
#include <complex>

#include "solver/field/field_solution.hpp"

namespace cw {

/// Flux density of a solved field anywhere: inside the mesh by its elements, outside the open
/// circle by the series of the empty space.
class FluxAt {
 public:
  /// Mesh and field must outlive this.
  FluxAt(const Mesh& mesh, const FieldSolution& field);

  /// (B_r, B_z) [T] rms at a place with r >= 0. Throws std::out_of_range outside a mesh that ends
  /// in a box.
  [[nodiscard]] std::array<std::complex<double>, 2> operator()(Point place) const;

 private:
  const Mesh& mesh_;
  const FieldSolution& field_;
  Eigen::VectorXcd series_;
};

}  // namespace cw
