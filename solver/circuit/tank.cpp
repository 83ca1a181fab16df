#include "solver/circuit/tank.hpp"

#include <fmt/core.h>

#include <cassert>
#include <cmath>
#include <stdexcept>

#include "solver/circuit/part_value.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;

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
  if (bank.cans_in_series < 1 || bank.cans.value_or(0) % bank.cans_in_series != 0) {
    throw std::invalid_argument(
        fmt::format("{} cans are no whole number of strings of {} in series; write cans as a "
                    "multiple of cans_in_series",
                    bank.cans.value_or(0), bank.cans_in_series));
  }
}

}  // namespace

TankCircuit tank_circuit(const Heater& heater) {
  std::optional<RingingDrive> found;
  ask(heater.drive, [&]<class D>(const D& drive) {
    static_assert(RingingTopology<D> == (D::tank_use == TankUse::rings));
    if constexpr (RingingTopology<D>) found = drive;
  });
  assert(found && heater.tank);
  return {*heater.tank, *found};
}

void require_usable(const Tank& tank) {
  require_usable_bank(tank);
  require_not_negative("resistance of the joints [ohm]", tank.joints.resistance, "\"0.4 mohm\"");
  require_not_negative("inductance of the joints [H]", tank.joints.inductance, "\"20 nH\"");
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

TankAdmittance tank_admittance(const TankCircuit& circuit, const CoilImpedance& coil, Frequency f) {
  const Tank& tank = circuit.tank;
  const Complex branch(coil.resistance_ohm + tank.joints.resistance,
                       f.omega() * (coil.inductance_H + tank.joints.inductance));
  return {
      .coil = 1.0 / branch,
      .bank = 1.0 / bank_impedance(tank, f),
      .drive = ask(circuit.drive, [&](const auto& drive) { return drive_admittance(drive, f); })};
}

Tank one_can_open(const Tank& tank) {
  assert(tank.strings() >= 2);
  const double left = (tank.strings() - 1.0) / tank.strings();
  Tank open = tank;
  open.cans = *tank.cans - tank.cans_in_series;
  open.capacitance *= left;
  open.esr /= left;
  open.esl /= left;
  return open;
}

}  // namespace cw
