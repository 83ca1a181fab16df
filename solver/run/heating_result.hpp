#pragma once

#include "solver/outcome/local_heat.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/heating.hpp"

namespace cw {

/// What result files say of a heating run. `rest`: where it would come to rest, as far as found.
HeatResult heat_result(const HeatingSetup& setup, const HeatingOutcome& outcome,
                       const std::optional<HeatingRest>& rest);

/// Puts further events in their place in time.
void add_part_events(const std::vector<HeatingEvent>& events, HeatResult& heat);

/// Temperatures and heat of a snapshot at the nodes of every triangle; bodies that take no part in
/// the heating at the temperature of their region, air at that of the surroundings.
LocalHeat local_heat(const HeatingSetup& setup, const HeatingSnapshot& snapshot);

}  // namespace cw
