#pragma once

#include <vector>

#include "mesh/section.hpp"

namespace cw {

/// The cylinders nearest to the axis. For each body with a straight side along its whole height:
/// the part of the axis beside it, and its radius (for a pipe that of the bore). Cylinders hidden
/// behind others, seen from the axis, are left out, and bodies of other shapes.
std::vector<Core> cores_of(const Section& section);

}  // namespace cw
