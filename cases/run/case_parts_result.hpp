#pragma once

#include "cases/run/solve_states.hpp"
#include "postproc/result/parts.hpp"
#include "postproc/result/result.hpp"

namespace cw::cases {

/// What can be said of the parts round the coil: each only where the case has its data, in the
/// state that asks most of it.
std::optional<PartsResult> case_parts_result(const Case& subject,
                                             const std::vector<SolvedState>& states);

/// Energy of one heat from the wall socket and its cost, once the heating run is known.
void add_heat_to_mains(const Case& subject, const HeatResult& heat, PartsResult& parts);

}  // namespace cw::cases
