#include "solver/coupled/accuracy.hpp"

#include "mesh/generate.hpp"
#include "mesh/split_edges.hpp"

namespace cw {

namespace {

/// The converged reluctivity and conductivity of the saturating bodies, point by point.
LocalMedia frozen_media(const EddySystem& system, const LoadedCoil& coil) {
  const NonlinearCoil& solved = *coil.saturated;
  LocalMedia local;
  local.of_triangle.assign(system.mesh().triangles.size(), -1);
  for (std::size_t k = 0; k < solved.triangles.size(); ++k) {
    const std::size_t t = solved.triangles[k];
    local.of_triangle[t] = static_cast<int>(k);
    std::array<Medium, 12> at;
    for (std::size_t q = 0; q < at.size(); ++q)
      at[q] = {solved.field.conductivity_at(system.mesh(), t, rule_shape(q)), solved.nu[k][q]};
    local.at.push_back(at);
  }
  return local;
}

MeshJudgement judged(const EddySystem& system, const TurnSet& turns, const TurnResponse& response,
                     const SeriesCoil& series, const AccuracyGoal& goal) {
  const ErrorAnalysis analysis(system, turns, response, series);
  MeshJudgement result;
  result.error = analysis.estimate();
  const double excess = cw::excess(result.error, turns, goal);
  if (excess <= 1) return result;
  const EdgesToSplit edges = analysis.edges_to_split(goal);
  result.split = edges.marked;
  const Mesh& mesh = system.mesh();
  result.shortfall = Shortfall{excess, mesh.nodes[edges.worst], 0};
  // On the surface of a body, name the body and not the air.
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (std::size_t k = 3; k < 6; ++k)
      if (mesh.triangles[t][k] == edges.worst && mesh.region[t] > 0)
        result.shortfall->region = mesh.region[t];
  return result;
}

}  // namespace

MeshJudgement judge_mesh(const EddySystem& system, const Winding& winding, const LoadedCoil& coil,
                         const AccuracyGoal& goal) {
  const TurnSet turns = turns_of(system, winding, coil.frequency);
  if (!coil.saturated) return judged(system, turns, coil.response, coil.series, goal);
  EddySystem linear(system.mesh(), coil.series.field.media, system.shape());
  linear.set_local(frozen_media(system, coil));
  const TurnResponse response = solve_turns(linear, turns, coil.frequency);
  return judged(linear, turns, response, connect_in_series(linear, turns, response), goal);
}

JudgedMesh refined_for(Mesh mesh, const CoilProblem& problem, const AccuracyGoal& goal,
                       int most_unknowns) {
  while (true) {
    EddySystem system(mesh, problem.media);
    const LoadedCoil coil = problem.saturating.empty()
                                ? solve_loaded_coil(system, problem.winding, problem.frequency)
                                : solve_loaded_coil(system, problem.winding, {problem.saturating},
                                                    problem.frequency, problem.current);
    const MeshJudgement judged = judge_mesh(system, problem.winding, coil, goal);
    if (judged.split.empty() || system.unknowns() > most_unknowns)
      return {std::move(mesh), judged.error};
    try {
      mesh = split_edges(mesh, judged.split);
    } catch (const MeshError&) {
      return {std::move(mesh), judged.error};
    }
  }
}

}  // namespace cw
