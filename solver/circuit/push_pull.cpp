#include "solver/circuit/push_pull.hpp"

#include <fmt/core.h>

#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace cw {
namespace {

constexpr double half_pi_squared = 0.5 * std::numbers::pi * std::numbers::pi;

double whole_path(const PushPullDrive& drive) {
  return battery_resistance(drive) + cable_resistance(drive.cable) + path_resistance(drive);
}

constexpr double never = std::numeric_limits<double>::infinity();

struct LatchPath {
  double voltage_V, inductance_H, resistance_ohm;
};

LatchPath latch_path(const PushPullDrive& drive) {
  const double n = drive.choke.count;
  return {.voltage_V = drive.supply - drive.transistor.drop,
          .inductance_H = drive.choke.inductance / n,
          .resistance_ohm = battery_resistance(drive) + cable_resistance(drive.cable) +
                            drive.choke.resistance / n + drive.transistor.resistance / 2.0};
}

}  // namespace

double path_resistance(const PushPullDrive& drive) {
  return drive.transistor.resistance + drive.choke.resistance / drive.choke.count;
}

DrivePoint drive_at_voltage(const PushPullDrive& drive, double conductance) {
  const double per_volt = half_pi_squared * conductance;
  const double effective =
      (drive.supply - drive.transistor.drop) / (1.0 + per_volt * whole_path(drive));
  return {.source_V = drive.supply,
          .supply_current_A = per_volt * effective,
          .effective_V = effective,
          .tank_peak_V = PushPullDrive::peak_over_supply * effective};
}

DrivePoint drive_at_current(const PushPullDrive& drive, double conductance, double current) {
  assert(conductance > 0.0 && current > 0.0);
  const double effective = current / (half_pi_squared * conductance);
  return {.source_V = effective + drive.transistor.drop + current * whole_path(drive),
          .supply_current_A = current,
          .effective_V = effective,
          .tank_peak_V = PushPullDrive::peak_over_supply * effective};
}

DriveLosses drive_losses(const PushPullDrive& drive, double current) {
  const double squared = current * current;
  return {.switches_W = squared * drive.transistor.resistance + current * drive.transistor.drop,
          .chokes_W = squared * drive.choke.resistance / drive.choke.count,
          .cable_W = squared * cable_resistance(drive.cable),
          .battery_W = squared * battery_resistance(drive)};
}

std::complex<double> drive_admittance(const PushPullDrive& drive, Frequency f) {
  return choke_admittance(drive.choke, f);
}

double switch_peak(const PushPullDrive& drive, const DrivePoint& point) {
  return point.tank_peak_V + point.supply_current_A * drive.transistor.resistance +
         drive.transistor.drop;
}

ChokeLoad choke_load(const PushPullDrive& drive, const DrivePoint& point, Frequency f) {
  return choke_load(drive.choke, point, f);
}

double latch_time(const PushPullDrive& drive, double current) {
  const LatchPath path = latch_path(drive);
  const double share = current * path.resistance_ohm / path.voltage_V;
  if (share >= 1.0 || std::isinf(path.inductance_H)) return never;
  const double straight = path.inductance_H * current / path.voltage_V;
  return share == 0.0 ? straight : straight * -std::log1p(-share) / share;
}

LatchUp latch_up(const PushPullDrive& drive) {
  const LatchPath path = latch_path(drive);
  LatchUp latch{
      .rise_A_per_us = 1e-6 * path.voltage_V / path.inductance_H,
      .final_current_A = path.resistance_ohm > 0.0 ? path.voltage_V / path.resistance_ohm : never,
      .time_to_saturation_s = never,
      .time_to_fuse_s = never};
  if (drive.choke.saturation)
    latch.time_to_saturation_s = latch_time(drive, drive.choke.count * *drive.choke.saturation);
  if (drive.fuse) latch.time_to_fuse_s = latch_time(drive, *drive.fuse);
  return latch;
}

HarmonicError harmonic_error(const PushPullDrive& drive, double loaded_q, double inductance) {
  const double small = 1.0 / (loaded_q * loaded_q);
  const double coil_to_choke =
      drive.choke.inductance > 0 ? inductance / drive.choke.inductance : 0.0;
  return {.frequency = 0.18 * small,
          .voltage_peak = 0.17 * small + 0.025 * coil_to_choke,
          .supply_current = 0.41 * small + 0.02 * coil_to_choke};
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
