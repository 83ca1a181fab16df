#pragma once

#include "solver/outcome/parts_result.hpp"

namespace cw::sample {

/// A conductor that runs away, a hot junction, a core without turns, a can of limited duty.
inline PartsResult hard_pressed() {
  PartsResult parts;
  parts.path.push_back({"track", 100, 1e-3, 10, 0.1, {}, 4.0, 0.03, "cold"});
  parts.junction = JunctionResult{20, Temperature::celsius(140), 5.5, {}, {}, "peak_demand"};
  parts.choke = ChokeResult{};
  parts.duty.push_back({"capacitor can", "empty", 5, Temperature::celsius(85), 90.0, 200.0, 0.4,
                        Temperature::celsius(180)});
  return parts;
}

}  // namespace cw::sample
