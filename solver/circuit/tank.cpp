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

void require_usable(const CapacitorBank& bank) {
  if (!std::isfinite(bank.capacitance_F) || bank.capacitance_F <= 0.0) {
    throw std::invalid_argument(fmt::format(
        "tank capacitance is {:.6g} F; it must be positive: write capacitance = \"2 uF\"",
        bank.capacitance_F));
  }
  require_not_negative("dissipation factor", bank.dissipation_factor, "a figure such as 8e-4");
  if (bank.dissipation_factor >= 1.0) {
    throw std::invalid_argument(
        fmt::format("dissipation factor is {:.6g}; it must be below 1 (tan delta, not per cent): "
                    "write a figure such as 8e-4",
                    bank.dissipation_factor));
  }
  require_not_negative("series resistance of the bank [ohm]", bank.esr_ohm, "\"0.5 mohm\"");
  require_not_negative("inductance of the bank [H]", bank.inductance_H, "\"5 nH\"");
  if (bank.cans < 0) {
    throw std::invalid_argument(
        fmt::format("the bank has {} cans; it must have one or more: write cans = 20", bank.cans));
  }
}

void require_usable(const FeedChokes& chokes) {
  if (chokes.count != 1 && chokes.count != 2) {
    throw std::invalid_argument(fmt::format(
        "choke count is {}; it must be 1 (into the coil's centre tap) or 2 (one to each drain): "
        "write count = 2",
        chokes.count));
  }
  if (!(chokes.inductance_H > 0.0)) {
    throw std::invalid_argument(fmt::format(
        "choke inductance is {:.6g} H; it must be positive: write inductance = \"150 uH\"",
        chokes.inductance_H));
  }
  require_not_negative("choke resistance [ohm]", chokes.resistance_ohm, "\"14 mohm\"");
}

}  // namespace

void require_usable(const Tank& tank) {
  require_usable(tank.bank);
  require_not_negative("resistance of the joints [ohm]", tank.joints.resistance_ohm,
                       "\"0.4 mohm\"");
  require_not_negative("inductance of the joints [H]", tank.joints.inductance_H, "\"20 nH\"");
  require_usable(tank.chokes);
}

Complex bank_impedance(const CapacitorBank& bank, Frequency f) {
  const double reactance = 1.0 / (f.omega() * bank.capacitance_F);
  return {bank.esr_ohm + bank.dissipation_factor * reactance,
          f.omega() * bank.inductance_H - reactance};
}

Complex choke_admittance(const FeedChokes& chokes, Frequency f) {
  if (std::isinf(chokes.inductance_H)) return 0.0;
  const double reactance = f.omega() * chokes.inductance_H;
  constexpr double ripple = 0.5 - 4.0 / (std::numbers::pi * std::numbers::pi);
  if (chokes.count == 1) return {0.0, -0.5 * ripple / reactance};
  return 0.5 / Complex(chokes.resistance_ohm, reactance) - Complex(0.0, ripple / reactance);
}

TankAdmittance tank_admittance(const Tank& tank, const CoilImpedance& coil, Frequency f) {
  const Complex branch(coil.resistance_ohm + tank.joints.resistance_ohm,
                       f.omega() * (coil.inductance_H + tank.joints.inductance_H));
  return {.coil = 1.0 / branch,
          .bank = 1.0 / bank_impedance(tank.bank, f),
          .chokes = choke_admittance(tank.chokes, f)};
}

Tank one_can_open(const Tank& tank) {
  assert(tank.bank.cans >= 2);
  const double left = (tank.bank.cans - 1.0) / tank.bank.cans;
  Tank open = tank;
  open.bank.cans -= 1;
  open.bank.capacitance_F *= left;
  open.bank.esr_ohm /= left;
  open.bank.inductance_H /= left;
  return open;
}

}  // namespace cw
