#pragma once

#include "cases/run/solve_states.hpp"
#include "postproc/result/cooling_result.hpp"
#include "postproc/result/result.hpp"

namespace cw::cases {

/// The coil's tube in the state that heats it most, with its water or in still air. `results`: one
/// for each of `states`. Empty for a coil that carries next to nothing (below 0.1 W).
std::optional<CoolingResult> case_cooling(const Case& subject,
                                          const std::vector<SolvedState>& states,
                                          const std::vector<StateResult>& results);

}  // namespace cw::cases
