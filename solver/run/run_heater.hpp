#pragma once

#include <functional>
#include <memory>
#include <optional>

#include "solver/outcome/result.hpp"
#include "solver/run/heating.hpp"
#include "solver/run/remedies.hpp"

namespace cw {

/// A run of a heater in memory. The heater must outlive it.
struct Run {
  Result result;
  std::vector<SolvedState> states;
  std::unique_ptr<HeatingSetup> heating;   ///< of the heating run, if there was one
  std::vector<HeatingSnapshot> snapshots;  ///< moments of the run
  bool interrupted = false;                ///< the heating was stopped and can be resumed
};

struct HeaterRunOptions {
  Effort effort = Effort::normal;
  /// Also computes how the stall temperature depends on emissivity and gap; takes a few more runs.
  bool further = false;
  SystemMaker maker = system_from_nothing;  ///< of the states
  std::optional<HeatingState> from = {};    ///< state from which the heating run continues
  std::optional<double> give_up = {};       ///< time after which the heating run is given up [s]
  /// Called during the heating with a state from which it could be resumed; true stops the run.
  std::function<bool(const HeatingState&)> stop = {};
  /// Called when the heating begins; the object is released when it ends. For callers that catch
  /// signals meanwhile.
  std::function<std::shared_ptr<void>()> while_heating = {};
  bool advise = false;  ///< also searches for remedies if the heater does not do its job: many runs
  RemedySearch remedies = {};
  /// Called after each state with the states so far.
  std::function<void(const std::vector<StateResult>&)> state_solved = {};
  /// Called when all states are solved, before the heating, with the run as run_states() gives it.
  /// What it changes in the result is dropped.
  std::function<void(Run&)> states_solved = {};
};

/// Solves the states of a heater and, if it has one, its heating run; judges the parts. Throws
/// SolveError or MeshError if it cannot be solved. The heater must have been checked: this function
/// does not report what cannot be built.
Run run_heater(const Heater& subject, const HeaterRunOptions& options = {});

/// The states alone.
Run run_states(const Heater& subject, Effort effort,
               const SystemMaker& maker = system_from_nothing);

/// Fills in everything of the result except its timing, from the solved states and from what
/// solving them has already noted in it.
void complete_run(const Heater& subject, Run& run);

}  // namespace cw
