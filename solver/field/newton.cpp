#include "solver/field/newton.hpp"

#include <algorithm>
#include <cmath>

#include "solver/field/gmres.hpp"

namespace cw {

namespace {

// Values with the shortest time, measured on a coil with a steel bar, where a factorisation costs
// about fifteen products.
constexpr double keeps_factorisation = 0.2;  ///< contraction of a step up to which the
                                             ///< factorisation is kept
constexpr int costly_products = 20;  ///< of one GMRES run, after which the factorisation is renewed
constexpr double loosest = 1e-2, tightest = 1e-4;  ///< GMRES tolerance
constexpr int most_halvings = 10;                  ///< of a step

/// Size of a correction relative to the field: by the power in the bodies, and by the whole
/// solution.
double relative_size(const SaturatingSystem& system, const Eigen::VectorXcd& d,
                     const Eigen::VectorXcd& x) {
  const double size = x.norm();
  if (size == 0.0) return d.norm() == 0.0 ? 0.0 : 1.0;
  const double whole = d.norm() / size, loss = system.body_loss(x);
  return loss > 0 ? std::max(whole, std::sqrt(system.body_loss(d) / loss)) : whole;
}

class Newton {
 public:
  Newton(SaturatingSystem& system, const Eigen::VectorXcd& f, Eigen::VectorXcd x, bool factorised)
      : system_(system), f_(f), x_(std::move(x)), residual_(system.residual(x_, f)) {
    if (factorised) {
      correction_ = precondition(residual_);
      contraction_ = keeps_factorisation;
    } else {
      factorise();
    }
  }

  NewtonResult run(const NewtonLimits& limits) {
    while (true) {
      report_.correction = relative_size(system_, correction_, x_);
      report_.converged = report_.correction < limits.tolerance;
      if (report_.converged || report_.steps >= limits.steps) break;
      if (!fresh_ && (contraction_ > keeps_factorisation || products_ > costly_products))
        factorise();
      if (!step()) break;
    }
    if (report_.converged) x_ -= correction_;  // the correction is already computed
    return {std::move(x_), report_};
  }

 private:
  void factorise() {
    system_.factorise();
    ++report_.factorisations;
    correction_ = precondition(residual_);
    fresh_ = true;
  }

  Eigen::VectorXcd precondition(const Eigen::VectorXcd& v) {
    ++report_.back_solves;
    return system_.precondition(v);
  }

  /// False if no length of the step reduces the residual.
  bool step() {
    system_.linearise();
    const double forcing = std::clamp(contraction_ * contraction_, tightest, loosest);
    const auto apply = [&](const Eigen::VectorXcd& v) -> Eigen::VectorXcd {
      return v + precondition(system_.remainder(v));
    };
    const GmresOutcome full = gmres(apply, correction_, {forcing, 40});
    products_ = full.products;
    const double before = correction_.norm();
    double t = 1.0;
    for (int halving = 0; halving < most_halvings; ++halving, t *= 0.5, ++report_.backtracks) {
      const Eigen::VectorXcd trial = x_ - t * full.x;
      Eigen::VectorXcd trial_residual = system_.residual(trial, f_);
      correction_ = precondition(trial_residual);
      contraction_ = correction_.norm() / before;
      if (contraction_ > 1.0 - 0.25 * t) continue;
      x_ = trial;
      residual_ = std::move(trial_residual);
      fresh_ = false;
      ++report_.steps;
      return true;
    }
    return false;
  }

  SaturatingSystem& system_;
  const Eigen::VectorXcd& f_;
  Eigen::VectorXcd x_, residual_, correction_;  ///< correction: the residual, preconditioned
  double contraction_ = 1.0;                    ///< of the correction in the last step
  int products_ = 0;
  bool fresh_ = false;  ///< factorised at x_
  NewtonReport report_;
};

}  // namespace

NewtonResult solve_newton(SaturatingSystem& system, const Eigen::VectorXcd& f, Eigen::VectorXcd x,
                          const NewtonLimits& limits) {
  return Newton(system, f, std::move(x), limits.factorised).run(limits);
}

}  // namespace cw
