#pragma once

#include "solver/field/error_estimate.hpp"

namespace cw {

/// The mesh, refined where the errors of the turns in series are largest, until `goal` is met, or
/// it has more than 300,000 unknowns, or no finer mesh is sound. Linear media. Throws SolveError.
Mesh refined_mesh(Mesh mesh, const Media& media, const TurnSet& turns, Frequency f,
                  const AccuracyGoal& goal);

}  // namespace cw
