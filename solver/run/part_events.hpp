#pragma once

#include "solver/coupled/heating_state.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// When, during a heating run, something beside the work passes its limit: every part whose
/// warming the case gives (can, choke, switch, leads), the tube of a dry coil, the water of a
/// cooled one (leaves above 60 degC, boils at the wall). Parts begin at the surroundings'
/// temperature and heat by what the run's moments say, straight lines between; none acts back on
/// the run. In order of time.
std::vector<HeatingEvent> part_events(const Heater& subject, const SolvedState& start,
                                      const std::vector<HeatingMoment>& moments);

}  // namespace cw
