#pragma once

#include <vector>

#include "cases/run/solve_states.hpp"
#include "postproc/result/result.hpp"

namespace cw::cases {

/// Everything of a push-pull case that can give out; empty for a bench drive.
std::vector<LimitResult> case_limits(const Case& subject, const std::vector<SolvedState>& states);

/// The rows of the parts round the coil, merged into the list.
void add_part_limits(const Case& subject, const PartsResult& parts,
                     std::vector<LimitResult>& limits);

}  // namespace cw::cases
