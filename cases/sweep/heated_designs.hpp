#pragma once

#include <optional>

#include "cases/sweep/run_sweep.hpp"

namespace cw::cases {

/// Who solves designs, where they are stored, and how.
struct DesignBench {
  Fleet& fleet;
  Store& store;
  const SweepOptions& options;
  const SweepListener& listener;
};

/// What became of designs that are ranked by a figure of their heating run. Heating takes ten times
/// as long as the states, so it is spared where it cannot change the ranking:
/// - states are solved at low effort first. What does not go together is not heated, nor what
///   breaks a limit in a state that every run begins with, or a requirement, by more than those
///   states may be wrong; its row holds the states.
/// - where the time to the target ranks, a fifth of the designs, the most promising by their
///   states, at least four, is heated first. Once so many do the job, the others are heated no
///   longer than the slowest of these took. What is not done by then is set aside.
/// What is solved does not depend on the number of workers. Empty when the user stopped it.
std::optional<std::vector<DesignRow>> heat_designs(const Case& subject,
                                                   const std::vector<DesignRow>& designs,
                                                   const DesignBench& bench);

}  // namespace cw::cases
