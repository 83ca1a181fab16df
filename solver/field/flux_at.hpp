#pragma once

#include <array>
#include <complex>
#include <optional>
#include <vector>

#include "solver/field/field_solution.hpp"

namespace cw {

/// Flux density of a solved field anywhere: inside the mesh from its elements, outside the open
/// circle from the series of the empty space.
///
/// In air the flux density of single large elements is uneven by a percent. There it is smoothed: a
/// polynomial of second degree in r and z is fitted to the values of the surrounding elements at
/// their three inner points, where the derivative of a quadratic is most exact. Source: O. C.
/// Zienkiewicz and J. Z. Zhu, "The superconvergent patch recovery", Int. J. Numer. Meth. Engng 33
/// (1992) 1331 (from memory).
class FluxAt {
 public:
  /// Mesh and field must outlive this.
  FluxAt(const Mesh& mesh, const FieldSolution& field);

  /// (B_r, B_z) [T] rms at a place with r >= 0. Throws std::out_of_range outside a mesh that ends
  /// in a box.
  [[nodiscard]] std::array<std::complex<double>, 2> operator()(Point place) const;

 private:
  /// Nothing if too few elements of air surround the point.
  [[nodiscard]] std::optional<std::array<std::complex<double>, 2>> smoothed(std::size_t triangle,
                                                                            Point place) const;

  const Mesh& mesh_;
  const FieldSolution& field_;
  Eigen::VectorXcd series_;
  std::vector<std::vector<std::size_t>> air_at_;  ///< triangles of air at each corner
};

}  // namespace cw
