#pragma once

#include <Eigen/Core>
#include <complex>
#include <memory>
#include <span>
#include <stdexcept>

#include "solver/fem/assembly.hpp"

namespace cw {

/// A system that could not be solved; what() says which step failed.
struct SolveError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// L D L^T of a complex symmetric (not Hermitian) matrix  K + j w M  with K positive definite and M
/// semi-definite: no pivoting is needed (the growth of such matrices is bounded: N. J. Higham,
/// Math. Comp. 67 (1998) 1591). The symbolic analysis is kept from one frequency to the next.
/// Unknowns must come in elimination order.
class Factorisation {
 public:
  explicit Factorisation(const Pattern& pattern);
  ~Factorisation();
  Factorisation(Factorisation&&) noexcept;
  Factorisation& operator=(Factorisation&&) noexcept;

  /// Values of K and M on the pattern; throws SolveError on a zero or non-finite pivot.
  void compute(std::span<const double> stiffness, std::span<const double> mass, double omega);
  /// Solution, one column per right-hand side.
  [[nodiscard]] Eigen::MatrixXcd solve(const Eigen::MatrixXcd& rhs) const;

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace cw
