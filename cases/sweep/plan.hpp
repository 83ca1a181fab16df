#pragma once

#include <vector>

#include "cases/read/read_case.hpp"

namespace cw::cases {

/// Designs of a sweep, each with the values of all its axes: every combination (the last axis
/// changes fastest), or random ones if the sweep has a sampling. Throws CaseError for more than a
/// million.
std::vector<std::vector<Change>> plan_designs(const Case& subject);

/// The value of an axis at a share 0 <= x < 1: between the ends of its range, or one of its listed
/// values.
std::string drawn_value(const SweepAxis& axis, double share);

}  // namespace cw::cases
