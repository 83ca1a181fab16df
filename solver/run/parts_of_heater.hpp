#pragma once

#include <span>

#include "solver/outcome/parts_result.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// Results for the parts round the coil, each if the case has its data, in the state that loads it
/// most.
std::optional<PartsResult> heater_parts(const Heater& subject, std::span<const SolvedState> states);

/// Energy of one heat from the wall socket and its cost, once the heating run is known.
void add_heat_to_mains(const Heater& subject, const HeatResult& heat, PartsResult& parts);

}  // namespace cw
