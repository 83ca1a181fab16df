#include "solver/circuit/drive.hpp"

#include <fmt/core.h>

#include <cassert>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace cw {
namespace {

constexpr double half_pi_squared = 0.5 * std::numbers::pi * std::numbers::pi;

double whole_path(const PushPull& drive, const FeedChokes& chokes) {
  return drive.supply.internal_resistance_ohm + drive.supply.cable_resistance_ohm +
         path_resistance(drive.switches, chokes);
}

}  // namespace

double path_resistance(const Switches& switches, const FeedChokes& chokes) {
  return switches.resistance_ohm + chokes.resistance_ohm / chokes.count;
}

DrivePoint drive_at_voltage(const PushPull& drive, const FeedChokes& chokes, double conductance) {
  const double per_volt = half_pi_squared * conductance;
  const double effective = (drive.supply.voltage_V - drive.switches.drop_V) /
                           (1.0 + per_volt * whole_path(drive, chokes));
  return {.source_V = drive.supply.voltage_V,
          .supply_current_A = per_volt * effective,
          .effective_V = effective};
}

DrivePoint drive_at_current(const PushPull& drive, const FeedChokes& chokes, double conductance,
                            double current) {
  assert(conductance > 0.0 && current > 0.0);
  const double effective = current / (half_pi_squared * conductance);
  return {.source_V = effective + drive.switches.drop_V + current * whole_path(drive, chokes),
          .supply_current_A = current,
          .effective_V = effective};
}

DriveLosses drive_losses(const PushPull& drive, const FeedChokes& chokes, double current) {
  const double squared = current * current;
  return {.switches_W = squared * drive.switches.resistance_ohm + current * drive.switches.drop_V,
          .chokes_W = squared * chokes.resistance_ohm / chokes.count,
          .cable_W = squared * drive.supply.cable_resistance_ohm,
          .battery_W = squared * drive.supply.internal_resistance_ohm};
}

double ripple_factor(int chokes) {
  assert(chokes == 1 || chokes == 2);
  constexpr double pi = std::numbers::pi;
  if (chokes == 1) {
    const double b = std::asin(2.0 / pi);
    return (2.0 * b - pi * (1.0 - std::cos(b))) / (2.0 * pi);
  }
  const double a = std::asin(1.0 / pi);
  return (pi + 2.0 * a - 2.0 * pi * (1.0 - std::cos(a))) / (2.0 * pi);
}

ChokeLoad choke_load(const FeedChokes& chokes, const DrivePoint& point, Frequency f) {
  const double mean = point.supply_current_A / chokes.count;
  const double ripple =
      ripple_factor(chokes.count) * point.effective_V / (f.hertz * chokes.inductance_H);
  const double peak = mean + 0.5 * ripple;
  return {.mean_A = mean,
          .ripple_peak_to_peak_A = ripple,
          .peak_A = peak,
          .energy_J = 0.5 * chokes.inductance_H * peak * peak};
}

void require_usable(const PushPull& drive) {
  require_usable(drive.supply);
  const double resistance = drive.switches.resistance_ohm;
  if (!std::isfinite(resistance) || resistance < 0.0) {
    throw std::invalid_argument(
        fmt::format("switch resistance is {:.6g} ohm; it must be zero or more: write resistance = "
                    "\"10 mohm\"",
                    resistance));
  }
  const double drop = drive.switches.drop_V;
  if (!(drop >= 0.0) || drop >= drive.supply.voltage_V) {
    throw std::invalid_argument(
        fmt::format("switch drop is {:.6g} V at a supply of {:.6g} V; it must be zero or more and "
                    "below the supply: write a drop such as \"1 V\"",
                    drop, drive.supply.voltage_V));
  }
}

}  // namespace cw
