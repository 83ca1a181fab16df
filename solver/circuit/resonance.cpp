#include "solver/circuit/resonance.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <optional>

namespace cw {
namespace {

constexpr double scan_step = 0.95;
constexpr double scan_depth = 1e-3;  // lowest frequency of the search, over 1/sqrt(LC)

/// Im Y/(w C), 1 at high frequency; with the chokes if `chokes` is set.
double balance(const TankCircuit& circuit, const CoilCurve& coil, double hertz, bool chokes) {
  const Frequency f{hertz};
  const TankAdmittance y = tank_admittance(circuit, coil(f), f);
  const double susceptance = y.coil.imag() + y.bank.imag() + (chokes ? y.drive.imag() : 0.0);
  return susceptance / (f.omega() * circuit.tank.capacitance);
}

/// Start of the search: above the resonance with the chokes, below that of the bank with its own
/// inductance.
double scan_from(const TankCircuit& circuit, double inductance) {
  const Tank& tank = circuit.tank;
  const Choke* choke = drive_parts(circuit.drive).choke;
  constexpr double two_pi = 2.0 * std::numbers::pi;
  double seen = inductance;
  if (choke != nullptr && std::isfinite(choke->inductance)) {
    seen = 1.0 / (1.0 / inductance + 1.0 / choke->inductance);  // more than the chokes add
  }
  const double top = 1.5 / (two_pi * std::sqrt(seen * tank.capacitance));
  const double own = two_pi * std::sqrt(tank.esl * tank.capacitance);
  return own == 0.0 ? top : std::min(top, 0.9999 / own);
}

/// Highest root of `g` below `top`: steps downwards until the sign changes.
template <class Function>
std::optional<double> highest_root(const Function& g, double top) {
  double high = top;
  double at_high = g(top);
  while (high > scan_depth * top) {
    const double low = high * scan_step;
    const double at_low = g(low);
    if (at_low <= 0.0 && at_high > 0.0) {
      std::uintmax_t steps = 100;
      const auto [a, b] = boost::math::tools::toms748_solve(
          g, low, high, at_low, at_high, boost::math::tools::eps_tolerance<double>(50), steps);
      return 0.5 * (a + b);
    }
    high = low;
    at_high = at_low;
  }
  return std::nullopt;
}

}  // namespace

std::variant<Frequency, NoRing> zero_reactance(const TankCircuit& circuit, const CoilCurve& coil,
                                               Frequency seed) {
  const Tank& tank = circuit.tank;
  const double inductance = coil(seed).inductance_H + tank.joints.inductance;
  const double top = scan_from(circuit, inductance);
  const auto bare = highest_root([&](double f) { return balance(circuit, coil, f, false); }, top);
  if (!bare) {
    const double square = inductance * tank.capacitance;
    const Frequency undamped{1.0 / (2.0 * std::numbers::pi * std::sqrt(square))};
    return NoRing{.resistance_ohm = coil(undamped).resistance_ohm + tank.joints.resistance,
                  .limit_ohm = std::sqrt(inductance / tank.capacitance),
                  .undamped = undamped};
  }
  const auto all = highest_root([&](double f) { return balance(circuit, coil, f, true); }, top);
  return Frequency{all.value_or(*bare)};
}

}  // namespace cw
