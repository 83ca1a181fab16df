#include "solver/field/newton.hpp"
#include <cstdio>
#include <cstdlib>

#include <algorithm>
#include <cmath>

#include "solver/field/gmres.hpp"

namespace cw {

namespace {
const bool kTrace = getenv("NEWTON_TRACE");

/// Size of a correction relative to the field: by the power in the bodies and by the whole solution.
double relative_size(const SaturatingSystem& system, const Eigen::VectorXcd& d, const Eigen::VectorXcd& x) {
  const double whole = d.norm() / x.norm(), loss = system.body_loss(x);
  return loss > 0 ? std::max(whole, std::sqrt(system.body_loss(d) / loss)) : whole;
}

}  // namespace

NewtonResult solve_newton(SaturatingSystem& system, const Eigen::VectorXcd& f, Eigen::VectorXcd x,
                          const NewtonLimits& limits) {
  NewtonReport report;
  bool fresh = false;           // factorised at the present x
  double contraction = 1.0;     // of the last step
  Eigen::VectorXcd r = system.residual(x, f), correction;
  const auto precondition = [&](const Eigen::VectorXcd& v) {
    ++report.back_solves;
    return system.precondition(v);
  };
  const auto factorise = [&] {
    system.factorise();
    ++report.factorisations;
    correction = precondition(r);
    fresh = true;
  };
  factorise();
  while (true) {
    report.correction = relative_size(system, correction, x);
    if (kTrace) fprintf(stderr, "  step %d corr %.2e contraction %.2e fact %d solves %d loss %.8g\n", report.steps, report.correction, contraction, report.factorisations, report.back_solves, system.body_loss(x));
    if (report.correction < limits.tolerance) {
      report.converged = true;
      break;
    }
    if (report.steps >= limits.steps) break;
    if (!fresh && contraction > 0.05) factorise();
    system.linearise();
    const double forcing = std::clamp(contraction * contraction, 1e-4, 1e-2);
    const GmresOutcome step = gmres([&](const Eigen::VectorXcd& v) { return precondition(system.tangent(v)); },
                                    correction, {forcing, 40});
    const double before = correction.norm();
    double t = 1.0;
    while (true) {
      const Eigen::VectorXcd trial = x - t * step.x;
      Eigen::VectorXcd trial_residual = system.residual(trial, f);
      correction = precondition(trial_residual);
      contraction = correction.norm() / before;
      if (contraction < 1.0 - 0.25 * t) {
        x = trial;
        r = std::move(trial_residual);
        break;
      }
      t *= 0.5;
      ++report.cuts;
      if (t < 1e-3) { if (kTrace) fprintf(stderr, "  stalled\n"); return {x, report}; }
    }
    if (kTrace && t < 1) fprintf(stderr, "  t = %g\n", t);
    fresh = false;
    ++report.steps;
  }
  return {std::move(x), report};
}

}  // namespace cw
