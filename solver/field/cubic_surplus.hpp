#pragma once

#include <Eigen/Core>
#include <array>
#include <complex>
#include <vector>

#include "solver/fem/triangle.hpp"
#include "solver/field/eddy_system.hpp"
#include "solver/field/field_solution.hpp"

namespace cw {

/// Products of the cubic functions of one triangle with each other and with the second-order
/// functions. The form is b(A, v) = int nu B(A).B(v) + j w sigma A v over the solid of revolution,
/// complex symmetric.
struct CubicTriangle {
  std::array<int, 4> unknown;  ///< of its three edges (-1 where A is given) and its bubble
  Eigen::Matrix<std::complex<double>, 4, 4> own;  ///< b(phi_i, phi_j)
  Eigen::Matrix<std::complex<double>, 4, 6>
      coupling;            ///< b(phi_i, N_j) with the second-order functions
  Eigen::Vector4d pull;    ///< sigma int phi_i dS [S m]: the action of 1 V round the region
  Eigen::Vector4d volume;  ///< 2 pi int r phi_i dS [m^3]
};

/// The functions that complete second-order triangles to third order, in reference coordinates: on
/// every edge a b (b - a), in every triangle the bubble a b c (a, b, c barycentric). They vanish at
/// the corners, so their coefficients are small where the second-order solution is good. Source: R.
/// E. Bank & R. K. Smith, SIAM J. Numer. Anal. 30 (1993) 921 (from memory). In vectors over them
/// the edges come first (numbered like mid-edge nodes), then the triangles.
class CubicSurplus {
 public:
  CubicSurplus(const EddySystem& system, Frequency f);

  [[nodiscard]] Eigen::Index size() const { return inverse_diagonal_.size(); }

  /// Residual of `field`, tested with every cubic function [A m]: zero for the exact field.
  [[nodiscard]] Eigen::VectorXcd residual(const FieldSolution& field) const;
  /// b(phi, .) of the cubic functions among themselves times x.
  [[nodiscard]] Eigen::VectorXcd apply(const Eigen::VectorXcd& x) const;
  /// Response to `residual` of each function alone: the residual over the diagonal of b.
  [[nodiscard]] Eigen::VectorXcd diagonal_answer(const Eigen::VectorXcd& residual) const;
  /// Response of all cubic functions together, with the second-order ones fixed, to about 3 %.
  /// Conjugate gradients without conjugation, as the matrix is complex symmetric (H. A. van der
  /// Vorst & J. B. M. Melissen, IEEE Trans. Magn. 26 (1990) 706, from memory).
  [[nodiscard]] Eigen::VectorXcd answer(const Eigen::VectorXcd& residual) const;
  /// Minus b(N, x) tested with the second-order functions, over the unknowns of the system.
  [[nodiscard]] Eigen::VectorXcd load_on_second_order(const Eigen::VectorXcd& x) const;
  /// Integral of sigma x over the section of each region, by RegionId.
  [[nodiscard]] std::vector<std::complex<double>> linkage(const Eigen::VectorXcd& x) const;

  /// The functions of triangle `t`: of its three edges (-1 where A is given) and its bubble.
  [[nodiscard]] const std::array<int, 4>& unknowns(std::size_t t) const {
    return triangles_[t].unknown;
  }
  /// The four values of x that belong to triangle `t`.
  [[nodiscard]] Eigen::Vector4cd local(const Eigen::VectorXcd& x, std::size_t t) const;

 private:
  void double_open_edges();
  void invert_diagonal();
  void add_outer_space(const Eigen::VectorXcd& potential, Eigen::VectorXcd& residual) const;

  const EddySystem& system_;
  std::vector<CubicTriangle> triangles_;
  Eigen::VectorXcd inverse_diagonal_;  ///< 0 for functions that take no part
};

/// +1 if an edge function (which rises from the lower node number to the higher) rises in the
/// direction of the triangle, else -1; +1 for the bubble. A triangle's own functions, below, times
/// this are the functions of the mesh.
Eigen::Vector4d orientation(const std::array<int, 6>& corners);

/// A triangle's own cubic functions at the nodes of TriangleRule, weighted for the potential
/// (PotentialWeight) like the second-order ones.
using CubicSamples = std::array<Sample<4>, 12>;
CubicSamples cubic_samples(const Mesh& mesh, std::size_t t);

}  // namespace cw
