#include "solver/circuit/start_up.hpp"

#include <cmath>
#include <limits>

namespace cw {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

struct LatchPath {
  double voltage_V, inductance_H, resistance_ohm;
};

LatchPath latch_path(const PushPull& drive, const FeedChokes& chokes) {
  const double n = chokes.count;
  return {.voltage_V = drive.supply.voltage_V - drive.switches.drop_V,
          .inductance_H = chokes.inductance_H / n,
          .resistance_ohm = drive.supply.internal_resistance_ohm +
                            drive.supply.cable_resistance_ohm + chokes.resistance_ohm / n +
                            drive.switches.resistance_ohm / 2.0};
}

}  // namespace

double latch_time(const PushPull& drive, const FeedChokes& chokes, double current) {
  const LatchPath path = latch_path(drive, chokes);
  const double share = current * path.resistance_ohm / path.voltage_V;
  if (share >= 1.0 || std::isinf(path.inductance_H)) return never;
  const double straight = path.inductance_H * current / path.voltage_V;
  return share == 0.0 ? straight : straight * -std::log1p(-share) / share;
}

LatchUp latch_up(const PushPull& drive, const FeedChokes& chokes, const LatchThresholds& at) {
  const LatchPath path = latch_path(drive, chokes);
  LatchUp latch{
      .rise_A_per_us = 1e-6 * path.voltage_V / path.inductance_H,
      .final_current_A = path.resistance_ohm > 0.0 ? path.voltage_V / path.resistance_ohm : never,
      .time_to_saturation_s = never,
      .time_to_fuse_s = never};
  if (at.choke_saturation_A) {
    latch.time_to_saturation_s = latch_time(drive, chokes, chokes.count * *at.choke_saturation_A);
  }
  if (at.fuse_A) latch.time_to_fuse_s = latch_time(drive, chokes, *at.fuse_A);
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
