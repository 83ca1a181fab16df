#pragma once

#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// What result files say of a solved state.
StateResult state_result(const Heater& subject, const SolvedState& state);

/// What result files say of a loaded coil at this current [A] rms.
CoilResult coil_result(const Heater& subject, const LoadedCoil& coil, double current);

}  // namespace cw
