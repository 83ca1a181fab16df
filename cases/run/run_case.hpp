#pragma once

#include <filesystem>
#include <functional>
#include <optional>

#include "cases/case.hpp"
#include "solver/run/run_heater.hpp"

namespace cw::cases {

struct RunOptions {
  Effort effort = Effort::normal;
  std::filesystem::path checkpoint;  ///< of the heating run; empty: none is written
  bool resume = false;               ///< from the checkpoint, if there is one
  /// Takes more runs: see HeaterRunOptions.
  bool further = false;
  std::optional<double> give_up = {};  ///< see HeaterRunOptions
  bool stoppable = false;              ///< Ctrl-C stops the heating run, and its results are kept
  std::function<void(const HeatingMoment&)> progress = {};
  std::function<void(int, int)> trying = {};  ///< of remedies: how many were tried, of how many
  SystemMaker maker = system_from_nothing;    ///< of the states
  bool advise = false;                        ///< see HeaterRunOptions
  std::function<void(const std::vector<StateResult>&)> state_solved = {};  ///< the same
  std::function<void(Run&)> states_solved = {};                            ///< the same, signed
};

/// Solves the states of a checked case, without heating run. Throws SolveError or MeshError if it
/// cannot be solved.
Run run_case(const Case& subject, Effort effort, const SystemMaker& maker = system_from_nothing);

/// The same and, if the case has one, its heating run. The checkpoint remains; it is removed when
/// the result is written.
Run run_case(const Case& subject, const RunOptions& options);

/// Adds to a result what only the program knows: the case's title and fingerprint, and its own
/// version.
void sign(const Case& subject, Result& result);

/// Writes all files of the run into `directory`; see write_result_directory().
void write_run(const Run& run, const Case& subject, const std::filesystem::path& directory);

}  // namespace cw::cases
