#pragma once

#include <Eigen/Core>
#include <complex>
#include <memory>
#include <span>
#include <stdexcept>
#include <vector>

#include "solver/fem/assembly.hpp"
#include "solver/fem/front_tree.hpp"

namespace cw {

/// A system that could not be solved; what() says which step failed.
struct SolveError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// L D L^T of a complex symmetric (not Hermitian) matrix  K + j w M  with K positive definite and M
/// semi-definite: no pivoting is needed (the growth of such matrices is bounded: N. J. Higham,
/// Math. Comp. 67 (1998) 1591). Front by front, see FrontTree; the tree is kept from one frequency
/// to the next and serves every matrix of the pattern. Unknowns must come in a good order of
/// elimination.
class Factorisation {
 public:
  explicit Factorisation(const Pattern& pattern);
  explicit Factorisation(std::shared_ptr<const FrontTree> tree);

  /// Values of K and M on the pattern; throws SolveError on a zero or non-finite pivot.
  void compute(std::span<const double> stiffness, std::span<const double> mass, double omega);
  /// Solution, one column per right-hand side.
  [[nodiscard]] Eigen::MatrixXcd solve(const Eigen::MatrixXcd& rhs) const;

 private:
  void solve_one(const Eigen::MatrixXcd& rhs, Eigen::MatrixXcd& x) const;
  void solve_many(const Eigen::MatrixXcd& rhs, Eigen::MatrixXcd& x) const;

  std::shared_ptr<const FrontTree> tree_;
  // Panels of all fronts: L below the diagonal, D on it; real and imaginary parts apart, so that
  // loops along a column are loops over doubles.
  std::vector<double> re_, im_;
  std::vector<std::complex<double>> inverse_pivot_;
};

}  // namespace cw
