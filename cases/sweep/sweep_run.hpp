#pragma once

#include "cases/sweep/rank.hpp"
#include "cases/sweep/run_sweep.hpp"

namespace cw::cases {

/// Comparison of a design of the fast method with its full solution.
struct CheckedDesign {
  std::size_t place = 0;                            ///< in the ranking, from 1
  double work = 0.0, coil = 0.0, inductance = 0.0;  ///< fast / full - 1
};

/// The result of a sweep.
struct SweepRun {
  Ranking ranking;
  std::vector<CheckedDesign> checked;  ///< the best ten, if the fast method was used
  bool stopped = false;                ///< by the user, before the end
};

/// The resources of a sweep, and its listener.
struct SweepBench {
  std::filesystem::path directory;
  Hosts* hosts = nullptr;  ///< null: only this machine
  SweepListener listener;
};

/// Solves every design of the case that is not yet in designs.sqlite of the directory, and ranks
/// all of them. Throws CaseError, WriteError.
SweepRun run_sweep(const Case& subject, const CaseText& text, const SweepOptions& options,
                   const SweepBench& bench);

/// Searches for the best design between the first and last value of each key instead of trying all
/// of them, according to [sweep] optimiser; see optimise.hpp. The ranking holds the designs tried.
SweepRun run_optimiser(const Case& subject, const CaseText& text, const SweepOptions& options,
                       const SweepBench& bench);

/// Writes tables/designs.csv, designs.json, the pictures and report.html beside the store. Each
/// file is replaced as a whole. Throws WriteError.
void write_sweep(const Case& subject, const Ranking& ranking,
                 const std::filesystem::path& directory);

/// Writes side_by_side_csv() of two designs; returns the file's name, relative to the directory.
std::string write_side_by_side(const Ranking& ranking, std::pair<std::size_t, std::size_t> places,
                               const std::filesystem::path& directory);

}  // namespace cw::cases
