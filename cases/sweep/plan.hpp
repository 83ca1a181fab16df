#pragma once

#include <vector>

#include "cases/read/read_case.hpp"

namespace cw::cases {

/// Designs of a sweep, each the values of all its axes: every combination (the last axis changes
/// fastest), or drawn ones where the sweep has a sampling. Throws CaseError for more than a
/// million.
std::vector<std::vector<Change>> plan_designs(const Case& subject);

/// The value of an axis at a share 0 <= x < 1 of the way: between the ends of its range, or one of
/// its values where it lists them.
std::string drawn_value(const SweepAxis& axis, double share);

}  // namespace cw::cases
