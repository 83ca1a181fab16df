#include "solver/thermal/steady.hpp"

#include <fmt/format.h>

#include "solver/fem/factorisation.hpp"

namespace cw {

SteadyHeat steady_heat(const ThermalModel& model, const Eigen::VectorXd& load, Temperature guess) {
  return steady_heat(model, load, Eigen::VectorXd::Constant(load.size(), guess.kelvin));
}

SteadyHeat steady_heat(const ThermalModel& model, const Eigen::VectorXd& load,
                       const Eigen::VectorXd& guess) {
  constexpr int most = 200;
  constexpr double settled = 1e-9, largest_change = 300.0;  // [K]
  HeatTangent tangent = model.make_tangent();
  SteadyHeat s{model.warmths(model.enthalpy_of(guess)).kelvin, {}, 0.0};
  double change = 0.0;
  for (int i = 0; i < most; ++i) {
    const HeatFlows b = model.balance(s.kelvin, load);
    model.tangent(s.kelvin, tangent);
    Eigen::VectorXd step = tangent.matrix.solve_steady(b.into, model.held());
    change = step.cwiseAbs().maxCoeff();
    if (change > largest_change) step *= largest_change / change;
    s.kelvin += step;
    // Below absolute zero, radiation would change its sign.
    s.kelvin = s.kelvin.cwiseMax(1.0);
    if (change < settled * s.kelvin.maxCoeff()) {
      const HeatFlows last = model.balance(s.kelvin, load);
      s.by_route = last.by_route;
      const double in = load.sum();
      s.error = in != 0.0 ? last.into.sum() / in : 0.0;
      return s;
    }
  }
  throw SolveError(fmt::format(
      "heat conduction: no steady temperature found in {} steps, the last changed it by {:.3g} K",
      most, change));
}

}  // namespace cw
