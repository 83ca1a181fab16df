#pragma once

#include <optional>

#include "solver/coupled/loaded_coil.hpp"

namespace cw {

/// Where the mesh holds most of an error that is still too large.
struct Shortfall {
  double excess = 1.0;  ///< largest estimated error over the one allowed
  Point at;
  RegionId region = 0;
};

/// Errors of a loaded coil, and what would mend them.
struct MeshJudgement {
  ErrorEstimate error;
  /// Edges to cut (split_edges()) where the goal is missed; empty where it is met.
  std::vector<char> split;
  std::optional<Shortfall> shortfall;  ///< set with `split`
};

/// Judges the mesh by the field of `coil`: the linear one, or, where bodies saturate, the linear
/// problem whose reluctivity at every point is the converged one (solved for that: one
/// factorisation). `system` must still be factorised for a linear coil.
MeshJudgement judge_mesh(const EddySystem& system, const Winding& winding, const LoadedCoil& coil,
                         const AccuracyGoal& goal);

/// A loaded coil whose mesh is to be refined.
struct CoilProblem {
  const Media& media;
  const Winding& winding;
  const std::vector<SaturatingRegion>& saturating;
  Frequency frequency;
  double current = 0.0;  ///< [A] rms, where bodies saturate
};

/// A mesh and the errors of what was last judged on it.
struct JudgedMesh {
  Mesh mesh;
  ErrorEstimate error;
};

/// The mesh refined until the coil on it is within the goal, or has `most_unknowns`, or cannot be
/// made finer. Throws SolveError.
JudgedMesh refined_for(Mesh mesh, const CoilProblem& problem, const AccuracyGoal& goal,
                       int most_unknowns = 300000);

}  // namespace cw
