#include "solver/thermal/steady.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>

#include "solver/fem/factorisation.hpp"

namespace cw {

namespace {

Stall stall_at(const std::function<double(Temperature)>& net_power, double kelvin) {
  constexpr double step = 0.5;  // [K]
  const double above = net_power({kelvin + step}), below = net_power({kelvin - step});
  return {{kelvin}, (above - below) / (2 * step)};
}

}  // namespace

Eigen::VectorXd uniform_losses(const ThermalModel& model, Temperature uniform) {
  const auto n = model.mesh().unknowns();
  HeatFlows b =
      model.balance(Eigen::VectorXd::Constant(n, uniform.kelvin), Eigen::VectorXd::Zero(n));
  return b.by_route;
}

SteadyHeat steady_heat(const ThermalModel& model, const Eigen::VectorXd& load, Temperature guess) {
  constexpr int most = 200;
  constexpr double settled = 1e-9, largest_change = 300.0;  // [K]
  HeatTangent tangent = model.make_tangent();
  SteadyHeat s{Eigen::VectorXd::Constant(load.size(), guess.kelvin), {}, 0.0};
  s.kelvin = model.warmths(model.enthalpy_of(s.kelvin)).kelvin;
  double change = 0.0;
  for (int i = 0; i < most; ++i) {
    const HeatFlows b = model.balance(s.kelvin, load);
    model.tangent(s.kelvin, tangent);
    Eigen::VectorXd step = tangent.matrix.solve_steady(b.into, model.held());
    change = step.cwiseAbs().maxCoeff();
    if (change > largest_change) step *= largest_change / change;
    s.kelvin += step;
    // Radiation below absolute zero would turn its sign.
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

std::optional<Stall> find_stall(const std::function<double(Temperature)>& net_power,
                                Temperature from, Temperature to, double grain) {
  double low = from.kelvin, net_low = net_power(from);
  if (net_low <= 0.0) return stall_at(net_power, low);
  while (low < to.kelvin) {
    const double high = std::min(low + grain, to.kelvin), net_high = net_power({high});
    if (net_high <= 0.0) {
      std::uintmax_t most = 60;
      const auto bracket = boost::math::tools::toms748_solve(
          [&net_power](double t) { return net_power({t}); }, low, high, net_low, net_high,
          [](double a, double b) { return b - a < 1e-6; }, most);
      return stall_at(net_power, 0.5 * (bracket.first + bracket.second));
    }
    low = high;
    net_low = net_high;
  }
  return std::nullopt;
}

}  // namespace cw
