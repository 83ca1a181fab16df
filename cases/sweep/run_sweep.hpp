#pragma once

#include <functional>

#include "cases/sweep/fleet.hpp"
#include "cases/sweep/store.hpp"

namespace cw::cases {

struct SweepOptions {
  Effort effort = Effort::normal;
  DesignMeans means;
  int jobs = 1;
  bool from_behind = false;  ///< another run works on the same store from the front
};

/// Progress of a sweep, reported after every answer.
struct SweepProgress {
  std::size_t done = 0, total = 0;                   ///< designs; done counts those of earlier runs
  std::size_t fresh = 0;                             ///< solved by this run
  std::size_t invalid = 0, failed = 0, crashed = 0;  ///< of this run
  double seconds = 0.0;                              ///< since this run, or its stage, began
  const char* stage = "";                            ///< "states", "heating"; empty: one stage
  /// Time left at this rate [s]; 0 before the first answer.
  [[nodiscard]] double left() const;
};
using SweepListener = std::function<void(const SweepProgress&)>;

/// A design that still has no outcome.
DesignRow planned(const Case& subject, const std::string& study, const std::vector<Change>& changes,
                  const SweepOptions& options);

/// Solves the designs that are not yet in the store, and stores each answer at once. False if the
/// user stopped it (StopSignal): unfinished designs are lost, all others stored. Throws WriteError.
bool solve_designs(Fleet& fleet, Store& store, std::vector<DesignRow> designs, bool from_behind,
                   const SweepListener& listener);

}  // namespace cw::cases
