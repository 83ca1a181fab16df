#pragma once

#include "solver/outcome/result.hpp"
#include "solver/run/heating.hpp"

namespace cw {

/// The hottest place of each body, compared with the temperature that harms its metal. A body that
/// is meant to melt has no such limit. Steel that is heated for hardening (target up to 980 degC)
/// coarsens its grain above some 1050 degC; hotter than that it scales fast, and 100 K below its
/// solidus its grain boundaries begin to burn (common practice, from memory). Any other metal
/// begins to melt at its solidus. A ceiling of the job applies to all.
std::vector<LimitResult> overheating(const Heater& heater, const HeatResult& heat);

/// The temperature above which the workpiece is harmed, as above; none if it is meant to melt.
std::optional<Temperature> hottest_allowed(const Heater& heater, const HeatResult& heat);

/// When the hottest place of the workpiece would exceed `allowed` if the power stayed on after the
/// target was reached [s]; none if not within twice the time to the target.
std::optional<double> too_hot_after(HeatingSetup& setup, HeatingState state, Temperature allowed);

}  // namespace cw
