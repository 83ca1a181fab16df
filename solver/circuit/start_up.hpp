#pragma once

#include "materials/quantity.hpp"

namespace cw {

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
