#pragma once

#include <optional>

#include "solver/coupled/loaded_coil.hpp"

namespace cw {

/// The place that contributes most to an error that is still too large.
struct Shortfall {
  double excess = 1.0;  ///< largest estimated error over the one allowed
  Point at;
  RegionId region = 0;
};

/// Errors of a loaded coil, and the edges to split to reduce them.
struct MeshJudgement {
  ErrorEstimate error;
  /// Edges to split (split_edges()) if the goal is missed; empty if it is met.
  std::vector<char> split;
  std::optional<Shortfall> shortfall;  ///< set with `split`
};

/// Estimates the error of the field of `coil`. If bodies saturate, this is the linear problem with
/// the converged reluctivity at every point, solved for this purpose (one factorisation). `system`
/// must still be factorised for a linear coil.
MeshJudgement judge_mesh(const EddySystem& system, const Winding& winding, const LoadedCoil& coil,
                         const AccuracyGoal& goal);

/// A loaded coil whose mesh is to be refined.
struct CoilProblem {
  const Media& media;
  const Winding& winding;
  const std::vector<SaturatingRegion>& saturating;
  Frequency frequency;
  double current = 0.0;  ///< [A] rms, used if bodies saturate
};

/// A mesh and its last error estimate.
struct JudgedMesh {
  Mesh mesh;
  ErrorEstimate error;
};

/// Refines the mesh until the coil meets the goal, the mesh has `most_unknowns`, or it cannot be
/// made finer. Throws SolveError.
JudgedMesh refined_for(Mesh mesh, const CoilProblem& problem, const AccuracyGoal& goal,
                       int most_unknowns = 300000);

}  // namespace cw
