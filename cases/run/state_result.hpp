#pragma once

#include "cases/run/solve_states.hpp"
#include "postproc/result/result.hpp"

namespace cw::cases {

/// What result files say of a solved state.
StateResult state_result(const Case& subject, const SolvedState& state);

/// What result files say of a loaded coil at this current [A] rms.
CoilResult coil_result(const Case& subject, const LoadedCoil& coil, double current);

/// The point a state's tank, power and field stand for: running, or, where the supply stopped, what
/// it was asked for.
const TankPoint& shown(const TankSolution& tank);

}  // namespace cw::cases
