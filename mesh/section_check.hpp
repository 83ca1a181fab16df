#pragma once

#include "mesh/section.hpp"

namespace cw {

/// Throws MeshError with the names of the regions if shapes are impossible (no size, across the
/// axis, a polygon that crosses itself) or overlap. Touching polygons are allowed, touching discs
/// are not.
void require_disjoint(const Section& section);

}  // namespace cw
