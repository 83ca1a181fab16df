#pragma once

#include <span>
#include <vector>

#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// Everything that can give out if the tank rings; empty for a drive of fixed frequency.
std::vector<LimitResult> heater_limits(const Heater& subject, std::span<const SolvedState> states);

/// The rows of the parts round the coil, merged into the list.
void add_part_limits(const Heater& subject, const PartsResult& parts,
                     std::vector<LimitResult>& limits);

/// Judges the supply also by the current that the heating run demands, if that is larger.
void add_heating_demand(const HeatResult& heat, LimitKind kind, std::vector<LimitResult>& limits);

}  // namespace cw
