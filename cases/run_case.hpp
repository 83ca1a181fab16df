#pragma once

#include <memory>

#include "cases/section_of_case.hpp"
#include "postproc/result.hpp"

namespace cw::cases {

/// A solved working point with everything its files need.
struct SolvedState {
  std::string name;
  FieldModel model;
  std::unique_ptr<Mesh> mesh;  ///< the field refers to it
  LoadedCoil coil;             ///< for 1 A rms
  FieldSolution field;         ///< at the state's current, phase 0 that of the current
};

/// A run in memory.
struct Run {
  Result result;
  std::vector<SolvedState> states;
};

/// Solves a checked case. Throws SolveError or MeshError when it cannot be solved, CaseError when
/// its drive is not one this program solves.
Run run_case(const Case& subject, Effort effort);

/// Writes everything the run leaves behind into `directory`; see write_result_directory().
void write_run(const Run& run, const Case& subject, const std::filesystem::path& directory);

}  // namespace cw::cases
