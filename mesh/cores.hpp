#pragma once

#include <vector>

#include "mesh/section.hpp"

namespace cw {

/// The stretches of the axis beside which bodies lie, each with the smallest radius above 0 at
/// which the surface of such a body lies; bodies that lie behind others, seen from the axis, are
/// left out.
std::vector<Core> cores_of(const Section& section);

}  // namespace cw
