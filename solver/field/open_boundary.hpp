#pragma once

#include <Eigen/Core>
#include <complex>

#include "materials/quantity.hpp"
#include "mesh/mesh.hpp"

namespace cw {

/// The empty space outside the open circle, exactly: its field is a series of A ~ P_l^1(cos theta)
/// / rho^(l+1), so the magnetic field on the circle follows from the potential on it, degree by
/// degree:
///   H_tangential = -(nu0 l / R) A_l.
/// Source: separation in spherical coordinates, e.g. J. D. Jackson, Classical Electrodynamics, ch.
/// 3 and 5.
class OpenBoundary {
 public:
  /// Degrees 1..edges of the circle: those that its second-order nodes can represent.
  explicit OpenBoundary(const Mesh& mesh);

  [[nodiscard]] bool present() const { return !nodes_.empty(); }
  /// Mesh nodes on the circle; rows of the matrices below.
  [[nodiscard]] const std::vector<int>& nodes() const { return nodes_; }
  /// Stiffness of the outer space [m^2/H], symmetric, positive semi-definite: add to the field
  /// matrix at nodes().
  [[nodiscard]] Eigen::MatrixXd stiffness() const;
  /// Coefficients a_l of A(R, theta) = sum a_l P_l^1(cos theta), l = 1...; from the potential of
  /// every mesh node.
  [[nodiscard]] Eigen::VectorXcd coefficients(const Eigen::VectorXcd& potential) const;
  /// Right-hand side of a uniform axial flux density of 1 T far away [same unit as stiffness times
  /// A].
  [[nodiscard]] Eigen::VectorXd uniform_field() const;
  /// Energy of the outside field, time average [J].
  [[nodiscard]] double exterior_energy(const Eigen::VectorXcd& potential) const;

 private:
  double radius_ = 0.0;
  std::vector<int> nodes_;
  Eigen::MatrixXd moments_;  ///< degree by node: 2 pi int N_i P_l^1 r dl
  Eigen::VectorXd norm_;     ///< by degree: 2 pi int (P_l^1)^2 r dl
};

/// A point of an edge of the open circle. It lies on the circle itself, so integrals have no
/// geometric error.
struct CirclePoint {
  double along;  ///< share of the edge up to this point
  double theta;  ///< from the axis
  Point at;
  double area;  ///< area of revolution that the quadrature point represents [m^2]
};
std::array<CirclePoint, 5> circle_points(const Mesh& mesh, const BorderEdge& edge);

/// Flux density outside the open circle from the coefficients [T] rms, (B_r, B_z) at a point with
/// rho >= R.
std::array<std::complex<double>, 2> exterior_flux(const Mesh& mesh,
                                                  const Eigen::VectorXcd& coefficients, Point p);

}  // namespace cw
