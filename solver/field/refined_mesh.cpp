#include "solver/field/refined_mesh.hpp"

#include "mesh/generate.hpp"
#include "mesh/split_edges.hpp"

namespace cw {

Mesh refined_mesh(Mesh mesh, const Media& media, const TurnSet& turns, Frequency f,
                  const AccuracyGoal& goal) {
  constexpr int most_unknowns = 300000;
  while (true) {
    EddySystem system(mesh, media);
    const TurnResponse response = solve_turns(system, turns, f);
    const SeriesCoil coil = connect_in_series(system, turns, response);
    const ErrorAnalysis analysis(system, turns, response, coil);
    if (excess(analysis.estimate(), turns, goal) <= 1 || system.unknowns() > most_unknowns)
      return mesh;
    try {
      mesh = split_edges(mesh, analysis.edges_to_split(goal).marked);
    } catch (const MeshError&) {
      return mesh;
    }
  }
}

}  // namespace cw
