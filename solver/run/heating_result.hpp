#pragma once

#include "solver/outcome/local_heat.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/heating.hpp"

namespace cw {

/// The result of a heating run for the files. `rest`: the steady state, if it was found.
HeatResult heat_result(const HeatingSetup& setup, const HeatingOutcome& outcome,
                       const std::optional<HeatingRest>& rest);

/// Inserts further events in order of time.
void add_part_events(const std::vector<HeatingEvent>& events, HeatResult& heat);

/// Temperatures and heat of a snapshot at the nodes of every triangle. Bodies that take no part in
/// the heating have the temperature of their region, air that of the surroundings.
LocalHeat local_heat(const HeatingSetup& setup, const HeatingSnapshot& snapshot);

}  // namespace cw
