#include "solver/circuit/start_up.hpp"

#include <cmath>
#include <limits>

namespace cw {
namespace {

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

StartVerdict start_verdict(double loaded_q) {
  if (loaded_q < 3.0) return StartVerdict::fails;
  return loaded_q < 5.0 ? StartVerdict::doubtful : StartVerdict::starts;
}

double gate_share(Frequency f, double gate_time) {
  return gate_time * 2.0 * f.hertz;
}

}  // namespace cw
