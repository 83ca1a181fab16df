#pragma once

#include <functional>
#include <optional>

#include "cases/sweep/rank.hpp"

namespace cw::cases {

/// Solves a design: its row, or nothing when the user stopped. `start` and `step` count from 1.
using Evaluate = std::function<std::optional<DesignRow>(const std::vector<Change>& changes,
                                                        int start, int step)>;

/// The objective to minimise: the rank key (negative if the largest is best), increased by ten
/// times its size for each limit exceeded by 100 %. 1e30 if there is no value.
double objective_of(const Sweep& sweep, const DesignRow& row);

/// Searches between the ends of each key (or among its values), without derivatives, from the
/// middle and, for further starts, from Sobol points, with evenly shared evaluations. Source: T.
/// Rowan's subplex method (thesis, Univ. Texas 1990, from memory) as implemented in NLopt. False if
/// the user stopped it.
bool optimise(const Sweep& sweep, const Optimiser& settings, const Evaluate& evaluate);

}  // namespace cw::cases
