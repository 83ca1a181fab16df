#pragma once

#include <filesystem>
#include <functional>
#include <optional>

#include "cases/case.hpp"
#include "solver/run/run_heater.hpp"

namespace cw::cases {

struct RunOptions {
  Effort effort = Effort::normal;
  std::filesystem::path checkpoint;  ///< of the heating run; empty: none is kept
  bool resume = false;               ///< from the checkpoint, where there is one
  /// What a reader asks next, at the price of more runs: see HeaterRunOptions.
  bool further = false;
  std::optional<double> give_up = {};  ///< see HeaterRunOptions
  bool stoppable = false;  ///< Ctrl-C stops the heating run, and what it has found is kept
  std::function<void(const HeatingMoment&)> progress = {};
  std::function<void(int, int)> trying = {};  ///< of remedies: how many are tried, of how many
  SystemMaker maker = system_from_nothing;    ///< of the states
  bool advise = false;                        ///< see HeaterRunOptions
};

/// Solves the states of a checked case, no heating run. Throws SolveError or MeshError when it
/// cannot be solved.
Run run_case(const Case& subject, Effort effort, const SystemMaker& maker = system_from_nothing);

/// The same and, where the case asks for it, its heating run. The checkpoint stays: it goes when
/// the result is written.
Run run_case(const Case& subject, const RunOptions& options);

/// What only the program knows of a result: the case's title and bytes, and its own version.
void sign(const Case& subject, Result& result);

/// Writes everything the run leaves behind into `directory`; see write_result_directory().
void write_run(const Run& run, const Case& subject, const std::filesystem::path& directory);

}  // namespace cw::cases
