#pragma once

#include "cases/run/solve_states.hpp"
#include "postproc/result/result.hpp"

namespace cw::cases {

/// A run in memory.
struct Run {
  Result result;
  std::vector<SolvedState> states;
};

/// Solves a checked case. Throws SolveError or MeshError when it cannot be solved.
Run run_case(const Case& subject, Effort effort, const Mesher& mesher = generate_mesh);

/// Writes everything the run leaves behind into `directory`; see write_result_directory().
void write_run(const Run& run, const Case& subject, const std::filesystem::path& directory);

}  // namespace cw::cases
