#pragma once

#include <vector>

#include "mesh/section.hpp"

namespace cw {

/// The cylinders nearest to the axis: for each body that shows a straight side along its whole
/// height, the stretch of the axis beside it and its radius (of a pipe its bore); those behind
/// others, seen from the axis, are left out, and bodies of other shapes.
std::vector<Core> cores_of(const Section& section);

}  // namespace cw
