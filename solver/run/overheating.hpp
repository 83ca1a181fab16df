#pragma once

#include "solver/outcome/result.hpp"

namespace cw {

/// The bodies of a heating run as parts that can be spoilt: each hottest place against where its
/// metal is harmed. A body that is meant to melt has no such limit. Steel heated to be hardened
/// (target up to 980 degC) coarsens its grain above some 1050 degC; hotter than that it scales
/// fast, and 100 K below its solidus its grain boundaries begin to burn (common practice, from
/// memory). Anything else begins to melt at its solidus.
std::vector<LimitResult> overheating(const Heater& heater, const HeatResult& heat);

}  // namespace cw
