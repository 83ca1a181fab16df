#pragma once

#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// The result of a solved state for the files.
StateResult state_result(const Heater& subject, const SolvedState& state);

/// The result of a loaded coil at this current [A] rms for the files.
CoilResult coil_result(const Heater& subject, const LoadedCoil& coil, double current);

}  // namespace cw
