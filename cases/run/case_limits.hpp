#pragma once

#include <vector>

#include "cases/run/solve_states.hpp"
#include "postproc/result/result.hpp"

namespace cw::cases {

/// Everything of a push-pull case that can give out; empty for a bench drive.
std::vector<LimitResult> case_limits(const Case& subject, const std::vector<SolvedState>& states);

}  // namespace cw::cases
