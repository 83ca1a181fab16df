#pragma once

#include <span>

#include "solver/outcome/cooling_result.hpp"
#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// The coil's tube in the state that heats it most, with its water or in still air. `results`: one
/// for each of `states`. Empty if the coil loss is negligible (below 0.1 W).
std::optional<CoolingResult> heater_cooling(const Heater& subject,
                                            std::span<const SolvedState> states,
                                            std::span<const StateResult> results);

}  // namespace cw
