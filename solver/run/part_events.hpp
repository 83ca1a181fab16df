#pragma once

#include "solver/coupled/heating_state.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// When parts beside the work pass their limits during a heating run: every part whose warming the
/// case gives (can, choke, switch, leads), the tube of a dry coil, the water of a cooled one
/// (outlet above 60 degC, boiling at the wall). Parts start at the surroundings' temperature. Their
/// losses follow the moments of the run, linear between them; the parts do not act back on the run.
/// In order of time.
std::vector<HeatingEvent> part_events(const Heater& subject, const SolvedState& start,
                                      const std::vector<HeatingMoment>& moments);

}  // namespace cw
