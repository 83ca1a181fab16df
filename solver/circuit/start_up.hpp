#pragma once

#include "solver/circuit/drive.hpp"

namespace cw {

/// Both switches stuck on: the chokes lie between supply and earth, and so side by side where there
/// are two (L/2); a single one alone (the coil's inductance beside it left out). Resistance
/// of battery, cable, chokes and switches limits in the end. A saturating choke is faster still.
struct LatchUp {
  double rise_A_per_us = 0.0;         ///< V/L_path at the first moment
  double final_current_A = 0.0;       ///< infinite without any resistance
  double time_to_saturation_s = 0.0;  ///< of the chokes; infinite: none given or never reached
  double time_to_fuse_s = 0.0;        ///< infinite: none given or never reached
};

/// The latched pair up to the saturation of its chokes and the rating of its fuse, as given.
LatchUp latch_up(const PushPullDrive& drive);

/// Time [s] for the latched supply current to reach `current`: -(L/R) ln(1 - I R/V), L I/V without
/// resistance, infinite if never.
double latch_time(const PushPullDrive& drive, double current);

/// Whether oscillation builds up. Thresholds on loaded Q: common practice, no source.
enum class StartVerdict {
  starts,    ///< loaded Q of 5 or more
  doubtful,  ///< below 5
  fails      ///< below 3
};
StartVerdict start_verdict(double loaded_q);

/// Gate time over half a period; above 0.1 the switches are slow for the frequency (common
/// practice, no source).
double gate_share(Frequency f, double gate_time);

}  // namespace cw
