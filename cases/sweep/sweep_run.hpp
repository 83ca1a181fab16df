#pragma once

#include "cases/sweep/rank.hpp"
#include "cases/sweep/run_sweep.hpp"

namespace cw::cases {

/// A sweep from case file to ranking.
struct SweepRun {
  Ranking ranking;
  bool stopped = false;  ///< by the user, before it was through
};

/// Solves every design of the case that `directory`/designs.sqlite does not hold yet, and ranks
/// all of them. `hosts` null: this machine alone. Throws CaseError, WriteError.
SweepRun run_sweep(const Case& subject, const CaseText& text, const SweepOptions& options,
                   const std::filesystem::path& directory, Hosts* hosts,
                   const SweepListener& listener);

/// Writes tables/designs.csv, designs.json and the pictures beside the store. Each file is replaced
/// whole. Throws WriteError.
void write_sweep(const Case& subject, const Ranking& ranking,
                 const std::filesystem::path& directory);

}  // namespace cw::cases
