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
  std::unique_ptr<HeatingSetup> heating;   ///< of the heating run, when there was one
  std::vector<HeatingSnapshot> snapshots;  ///< moments of it
  bool interrupted = false;                ///< the heating was stopped and can be taken up again
};

struct HeaterRunOptions {
  Effort effort = Effort::normal;
  /// What a reader asks next, at the price of a few more runs: how the stall moves.
  bool further = false;
  SystemMaker maker = system_from_nothing;  ///< of the states
  std::optional<HeatingState> from = {};    ///< the heating run goes on from here
  std::optional<double> give_up = {};       ///< time after which the heating is broken off [s]
  /// Asked while it heats, with a state it could be taken up from; true stops it.
  std::function<bool(const HeatingState&)> stop = {};
  /// Made when it begins to heat, let go when that ends: for whoever catches signals meanwhile.
  std::function<std::shared_ptr<void>()> while_heating = {};
  bool advise = false;  ///< looks for what would help a heater that does not do its job: many runs
  RemedySearch remedies = {};
};

/// Solves the states of a heater and, where it asks for one, its heating run; judges the parts.
/// Throws SolveError or MeshError when it cannot be solved. The heater is taken as checked: what
/// cannot be built is not told here.
Run run_heater(const Heater& heater, const HeaterRunOptions& options = {});

/// The states alone.
Run run_states(const Heater& heater, Effort effort, const SystemMaker& maker = system_from_nothing);

/// Everything the result says but its timing, from the states, which are there, and what solving
/// them has noted in it.
void complete_run(const Heater& heater, Run& run);

}  // namespace cw
