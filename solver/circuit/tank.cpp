#include "solver/circuit/tank.hpp"

#include <fmt/core.h>

#include <cassert>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace cw {
namespace {

using Complex = std::complex<double>;

/// A part's value that must be finite and zero or more.
void require_not_negative(const char* what, double value, const char* example) {
  if (std::isfinite(value) && value >= 0.0) return;
  throw std::invalid_argument(
      fmt::format("{} is {:.6g}; it must be zero or more: write {}", what, value, example));
}

void require_usable_bank(const Tank& bank) {
  if (!std::isfinite(bank.capacitance) || bank.capacitance <= 0.0) {
    throw std::invalid_argument(fmt::format(
        "tank capacitance is {:.6g} F; it must be positive: write capacitance = \"2 uF\"",
        bank.capacitance));
  }
  const double loss = bank.dissipation_factor.value_or(0.0);
  require_not_negative("dissipation factor", loss, "a figure such as 8e-4");
  if (loss >= 1.0) {
    throw std::invalid_argument(
        fmt::format("dissipation factor is {:.6g}; it must be below 1 (tan delta, not per cent): "
                    "write a figure such as 8e-4",
                    loss));
  }
  require_not_negative("series resistance of the bank [ohm]", bank.esr, "\"0.5 mohm\"");
  require_not_negative("inductance of the bank [H]", bank.esl, "\"5 nH\"");
  if (bank.cans && *bank.cans < 1) {
    throw std::invalid_argument(
        fmt::format("the bank has {} cans; it must have one or more: write cans = 20", *bank.cans));
  }
}

}  // namespace

TankCircuit tank_circuit(const Heater& heater) {
  return {*heater.tank, std::get<PushPullDrive>(heater.drive)};
}

void require_usable(const Tank& tank) {
  require_usable_bank(tank);
  require_not_negative("resistance of the joints [ohm]", tank.joints.resistance, "\"0.4 mohm\"");
  require_not_negative("inductance of the joints [H]", tank.joints.inductance, "\"20 nH\"");
}

void require_usable(const Choke& choke) {
  if (choke.count != 1 && choke.count != 2) {
    throw std::invalid_argument(fmt::format(
        "choke count is {}; it must be 1 (into the coil's centre tap) or 2 (one to each drain): "
        "write count = 2",
        choke.count));
  }
  if (!(choke.inductance > 0.0)) {
    throw std::invalid_argument(fmt::format(
        "choke inductance is {:.6g} H; it must be positive: write inductance = \"150 uH\"",
        choke.inductance));
  }
  require_not_negative("choke resistance [ohm]", choke.resistance, "\"14 mohm\"");
}

Complex bank_impedance(const Tank& bank, Frequency f) {
  const double reactance = 1.0 / (f.omega() * bank.capacitance);
  return {bank.esr + bank.dissipation_factor.value_or(0.0) * reactance,
          f.omega() * bank.esl - reactance};
}

Complex series_impedance(const Tank& tank, Frequency f) {
  return Complex(tank.joints.resistance, f.omega() * tank.joints.inductance) +
         bank_impedance(tank, f);
}

Complex choke_admittance(const Choke& choke, Frequency f) {
  if (std::isinf(choke.inductance)) return 0.0;
  const double reactance = f.omega() * choke.inductance;
  constexpr double ripple = 0.5 - 4.0 / (std::numbers::pi * std::numbers::pi);
  if (choke.count == 1) return {0.0, -0.5 * ripple / reactance};
  return 0.5 / Complex(choke.resistance, reactance) - Complex(0.0, ripple / reactance);
}

TankAdmittance tank_admittance(const TankCircuit& circuit, const CoilImpedance& coil, Frequency f) {
  const Tank& tank = circuit.tank;
  const Complex branch(coil.resistance_ohm + tank.joints.resistance,
                       f.omega() * (coil.inductance_H + tank.joints.inductance));
  return {.coil = 1.0 / branch,
          .bank = 1.0 / bank_impedance(tank, f),
          .chokes = choke_admittance(circuit.drive.choke, f)};
}

Tank one_can_open(const Tank& tank) {
  assert(tank.cans && *tank.cans >= 2);
  const double left = (*tank.cans - 1.0) / *tank.cans;
  Tank open = tank;
  open.cans = *tank.cans - 1;
  open.capacitance *= left;
  open.esr /= left;
  open.esl /= left;
  return open;
}

}  // namespace cw
