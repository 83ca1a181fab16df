#pragma once

#include "solver/fem/triangle.hpp"

namespace cw {

/// The second-order triangle with a seventh node at its centre. Its lumped capacity is positive at
/// every node and as accurate as the full matrix (the seven-point rule is exact to degree 3). The
/// six-node triangle has no such lumping: its row sums vanish at the corners. Thanks to lumping
/// each node has its own enthalpy, shared or melting, without oscillations. Source: G. Cohen, P.
/// Joly, J. E. Roberts, N. Tordjman, SIAM J. Numer. Anal. 38 (2001) 2047 (from memory; order and
/// exactness checked by test).
struct LumpedTriangle {
  std::array<Sample<7>, 12> samples;  ///< at the points of TriangleRule
  std::array<double, 7> volume;       ///< [m^3] of revolution belonging to each node
  Point centre;                       ///< the seventh node
  bool on_axis = false;
  double mean_radius = 0.0;  ///< [m]
};

/// Order of nodes: corners, edges 01, 12, 20, centre.
Eigen::Vector<double, 7> lumped_values(double x, double y);
Eigen::Matrix<double, 2, 7> lumped_gradients(double x, double y);

/// In triangles that touch the axis, a thousandth of the weight r is replaced by its mean over the
/// triangle; otherwise nodes on the axis would have no volume. The total is unchanged. The error of
/// the temperature on the axis is some 1e-4 of the difference across its triangles.
LumpedTriangle lumped_triangle(const TrianglePoints& points);

/// Power [W] at each node from the power density [W/m^3] at the points of TriangleRule. The sum is
/// the integral over the solid of revolution; a uniform density heats every node at the same rate.
std::array<double, 7> nodal_power(const LumpedTriangle& triangle,
                                  const std::array<double, 12>& density);

}  // namespace cw
