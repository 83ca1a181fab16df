#pragma once

#include <optional>

#include "cases/sweep/run_sweep.hpp"

namespace cw::cases {

/// Who solves the designs, where they are stored, and how.
struct DesignBench {
  Fleet& fleet;
  Store& store;
  const SweepOptions& options;
  const SweepListener& listener;
};

/// Outcomes of designs that are ranked by a figure of their heating run. Heating takes ten times as
/// long as the states, so it is skipped if it cannot change the ranking:
/// - States are solved at low effort first. Invalid designs are not heated. Nor are designs that
///   break a requirement, or a limit in a state with which every run begins, by more than the error
///   of those states; their row holds the states.
/// - If the time to the target is the rank key, a fifth of the designs (the most promising by their
///   states, at least four) is heated first. Once enough of them do the job, the others are heated
///   no longer than the slowest of these took. Those that have not reached the target by then are
///   set aside.
/// The solutions do not depend on the number of workers. Empty if the user stopped it.
std::optional<std::vector<DesignRow>> heat_designs(const Case& subject,
                                                   const std::vector<DesignRow>& designs,
                                                   const DesignBench& bench);

}  // namespace cw::cases
