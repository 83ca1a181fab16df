#pragma once

#include <functional>
#include <optional>

#include "cases/sweep/rank.hpp"

namespace cw::cases {

/// Solves a design: its row, or nothing when the user stopped. `start` and `step` count from 1.
using Evaluate = std::function<std::optional<DesignRow>(const std::vector<Change>& changes,
                                                        int start, int step)>;

/// What the optimiser makes small: the rank key (its negative where largest comes first), and ten
/// times its size for each limit passed by all of itself. 1e30 where there is no value.
double objective_of(const Sweep& sweep, const DesignRow& row);

/// Searches between the ends of each key (or among its values), without derivatives, from the
/// middle and from Sobol points for further starts, evaluations shared evenly. Source: T. Rowan's
/// subplex method (thesis, Univ. Texas 1990, from memory) as NLopt has it. False when the user
/// stopped it.
bool optimise(const Sweep& sweep, const Optimiser& settings, const Evaluate& evaluate);

}  // namespace cw::cases
