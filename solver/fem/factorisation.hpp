#pragma once

#include <Eigen/Core>
#include <complex>
#include <memory>
#include <span>
#include <stdexcept>
#include <type_traits>
#include <vector>

#include "solver/fem/assembly.hpp"
#include "solver/fem/column_update.hpp"
#include "solver/fem/front_tree.hpp"

namespace cw {

/// Thrown when a system could not be solved; what() names the step that failed.
struct SolveError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// L D L^T of a symmetric matrix: complex (not Hermitian) K + j w M with K positive definite and M
/// semi-definite, or real and positive definite. No pivoting is needed (the growth of such matrices
/// is bounded: N. J. Higham, Math. Comp. 67 (1998) 1591). It works front by front, see FrontTree;
/// the tree is kept between frequencies and fits every matrix of the pattern. Unknowns must come in
/// a good order of elimination. Scalars: double, std::complex<double>, and std::complex<float> for
/// a preconditioner: half the memory, and so about half the time of a solution.
template <class Scalar>
class FactorisationOf {
 public:
  /// Right-hand sides and solutions are in double precision, whatever the precision of the factors.
  using Outer = std::conditional_t<is_complex<Scalar>, std::complex<double>, double>;
  using Columns = Eigen::Matrix<Outer, Eigen::Dynamic, Eigen::Dynamic>;

  explicit FactorisationOf(const Pattern& pattern);
  explicit FactorisationOf(std::shared_ptr<const FrontTree> tree);

  /// Values of K and M on the pattern (M and w only for complex scalars). Throws SolveError on a
  /// zero or non-finite pivot.
  void compute(std::span<const double> stiffness, std::span<const double> mass = {},
               double omega = 0.0);
  /// Solution, one column per right-hand side.
  [[nodiscard]] Columns solve(const Columns& rhs) const;

 private:
  using Real = RealOf<Scalar>;
  void solve_one(const Columns& rhs, Eigen::Index column, Columns& x) const;

  std::shared_ptr<const FrontTree> tree_;
  std::vector<Real> re_, im_;  ///< panels of all fronts: L below the diagonal, D on it
  std::vector<Scalar> inverse_pivot_;
};

using Factorisation = FactorisationOf<std::complex<double>>;

}  // namespace cw
