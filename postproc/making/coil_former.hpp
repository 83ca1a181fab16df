#pragma once

#include <optional>

#include "postproc/making/triangle_surface.hpp"
#include "solver/heater/coil.hpp"

namespace cw {

/// Depth of the groove over the conductor's diameter, and what the former has beyond the outermost
/// turns and under a spiral [m]: common practice, no source.
inline constexpr double groove_depth = 1.0 / 3.0, former_beyond = 5e-3, former_base = 4e-3;

/// The body a coil is wound on, to be printed or turned: a cylinder or cone with a groove for every
/// turn, for a flat coil a plate with a spiral on its upper side and a hole for the inner end. The
/// winding is right-handed and rises in z, as in write_coil().
///
/// The bottom of the groove carries the inside of the conductor. Where its spring-back is known
/// (soft copper tube), radii are smaller by it, each by its own (wound_radius(); between the ends
/// of a cone or spiral in a straight line, good to 0.1 mm); rise from turn to turn is the coil's.
/// The groove is round across the conductor, its diameter the conductor's, and runs out at both
/// ends. On cones steeper than 19 degrees it has no undercut, so that the coil comes off.
///
/// Empty where there is nothing to wind so: given rings, bars, strands, a coil without pitch,
/// grooves that run into each other, a hole or cone too narrow, more turns than 90,000 triangles
/// show.
std::optional<TriangleSurface> coil_former(const Coil& coil);

}  // namespace cw
