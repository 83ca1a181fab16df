#pragma once

#include "solver/field/saturating_system.hpp"

namespace cw {

struct NewtonLimits {
  double tolerance = 1e-7;  ///< for the last correction / the field, in the norm whose square is
                            ///< the power; that correction is still applied
  int steps = 40;
  bool factorised = false;  ///< the existing factorisation is good enough to start with
};

struct NewtonReport {
  int steps = 0, factorisations = 0, back_solves = 0, backtracks = 0;  ///< last: steps shortened
  double correction = 0.0;  ///< relative size of the last one
  bool converged = false;
};

struct NewtonResult {
  Eigen::VectorXcd x;
  NewtonReport report;
};

/// Solves residual(x) = f from x by inexact Newton steps: GMRES on the tangent, preconditioned by
/// one complex factorisation in single precision, which is kept while the steps shrink fast. A step
/// is shortened until the preconditioned residual falls (natural monotonicity test: P. Deuflhard,
/// Newton Methods for Nonlinear Problems, Springer 2004, 3.1, from memory). Throws SolveError only
/// from the factorisation; if it does not converge, it returns converged = false.
NewtonResult solve_newton(SaturatingSystem& system, const Eigen::VectorXcd& f, Eigen::VectorXcd x,
                          const NewtonLimits& limits);

}  // namespace cw
