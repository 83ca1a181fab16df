#pragma once

#include "solver/outcome/result.hpp"
#include "solver/run/heating.hpp"

namespace cw {

/// The bodies of a heating run as parts that can be spoilt: each hottest place against where its
/// metal is harmed. A body that is meant to melt has no such limit. Steel heated to be hardened
/// (target up to 980 degC) coarsens its grain above some 1050 degC; hotter than that it scales
/// fast, and 100 K below its solidus its grain boundaries begin to burn (common practice, from
/// memory). Anything else begins to melt at its solidus. A ceiling of the job holds for all.
std::vector<LimitResult> overheating(const Heater& heater, const HeatResult& heat);

/// The temperature above which the workpiece is harmed, as above; none where it is meant to melt.
std::optional<Temperature> hottest_allowed(const Heater& heater, const HeatResult& heat);

/// When the hottest place of the workpiece would pass a temperature, if the power stays on after a
/// run that reached its target [s]; none within twice its time.
std::optional<double> too_hot_after(HeatingSetup& setup, HeatingState state, Temperature allowed);

}  // namespace cw
