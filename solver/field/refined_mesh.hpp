#pragma once

#include "solver/field/error_estimate.hpp"

namespace cw {

/// The mesh with edges cut where the errors of the turns in series lie, until `goal` is met, or
/// there are more than 300,000 unknowns, or no sound mesh is finer. Linear media. Throws
/// SolveError.
Mesh refined_mesh(Mesh mesh, const Media& media, const TurnSet& turns, Frequency f,
                  const AccuracyGoal& goal);

}  // namespace cw
