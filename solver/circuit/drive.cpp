#include "solver/circuit/drive.hpp"

#include <fmt/core.h>

#include <cassert>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace cw {
namespace {

constexpr double half_pi_squared = 0.5 * std::numbers::pi * std::numbers::pi;

double whole_path(const PushPullDrive& drive) {
  return battery_resistance(drive) + cable_resistance(drive.cable) + path_resistance(drive);
}

}  // namespace

double path_resistance(const PushPullDrive& drive) {
  return drive.transistor.resistance + drive.choke.resistance / drive.choke.count;
}

DrivePoint drive_at_voltage(const PushPullDrive& drive, double conductance) {
  const double per_volt = half_pi_squared * conductance;
  const double effective =
      (drive.supply - drive.transistor.drop) / (1.0 + per_volt * whole_path(drive));
  return {
      .source_V = drive.supply, .supply_current_A = per_volt * effective, .effective_V = effective};
}

DrivePoint drive_at_current(const PushPullDrive& drive, double conductance, double current) {
  assert(conductance > 0.0 && current > 0.0);
  const double effective = current / (half_pi_squared * conductance);
  return {.source_V = effective + drive.transistor.drop + current * whole_path(drive),
          .supply_current_A = current,
          .effective_V = effective};
}

DriveLosses drive_losses(const PushPullDrive& drive, double current) {
  const double squared = current * current;
  return {.switches_W = squared * drive.transistor.resistance + current * drive.transistor.drop,
          .chokes_W = squared * drive.choke.resistance / drive.choke.count,
          .cable_W = squared * cable_resistance(drive.cable),
          .battery_W = squared * battery_resistance(drive)};
}

double ripple_factor(int chokes) {
  assert(chokes == 1 || chokes == 2);
  using std::numbers::pi;
  if (chokes == 1) {
    const double b = std::asin(2.0 / pi);
    return (2.0 * b - pi * (1.0 - std::cos(b))) / (2.0 * pi);
  }
  const double a = std::asin(1.0 / pi);
  return (pi + 2.0 * a - 2.0 * pi * (1.0 - std::cos(a))) / (2.0 * pi);
}

ChokeLoad choke_load(const Choke& choke, const DrivePoint& point, Frequency f) {
  const double mean = point.supply_current_A / choke.count;
  const double ripple =
      ripple_factor(choke.count) * point.effective_V / (f.hertz * choke.inductance);
  const double peak = mean + 0.5 * ripple;
  return {.mean_A = mean,
          .ripple_peak_to_peak_A = ripple,
          .peak_A = peak,
          .energy_J = 0.5 * choke.inductance * peak * peak};
}

void require_usable(const PushPullDrive& drive) {
  require_usable_supply(drive);
  require_usable(drive.choke);
  const double resistance = drive.transistor.resistance;
  if (!std::isfinite(resistance) || resistance < 0.0) {
    throw std::invalid_argument(fmt::format(
        "switch resistance is {:.6g} ohm; it must be zero or more: write resistance = \"10 mohm\"",
        resistance));
  }
  const double drop = drive.transistor.drop;
  if (!(drop >= 0.0) || drop >= drive.supply) {
    throw std::invalid_argument(
        fmt::format("switch drop is {:.6g} V at a supply of {:.6g} V; it must be zero or more and "
                    "below the supply: write a drop such as \"1 V\"",
                    drop, drive.supply));
  }
}

}  // namespace cw
