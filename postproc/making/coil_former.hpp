#pragma once

#include <optional>

#include "postproc/making/triangle_surface.hpp"
#include "solver/heater/coil.hpp"

namespace cw {

/// Depth of the groove over the conductor's diameter, material beyond the outermost turns, and
/// thickness under a spiral [m]: common practice, no source.
inline constexpr double groove_depth = 1.0 / 3.0, former_beyond = 5e-3, former_base = 4e-3;

/// The body on which to wind a coil, to be printed or turned: a cylinder or cone with a groove for
/// every turn; for a flat coil a plate with a spiral on its upper side and a hole for the inner
/// end. The winding is right-handed and rises in z, as in write_coil().
///
/// The bottom of the groove carries the inside of the conductor. If the spring-back is known (soft
/// copper tube), radii are smaller by the spring-back at that radius (wound_radius(); linear
/// between the ends of a cone or spiral, accurate to 0.1 mm). The rise from turn to turn is that of
/// the coil. The groove has a round section with the diameter of the conductor, and leaves the body
/// at both ends. On cones steeper than 19 degrees it has no undercut, so that the coil comes off.
///
/// Empty if no former can be made: given rings, bars, strands, a coil without pitch, grooves that
/// overlap, a hole or cone too narrow, or so many turns that 90,000 triangles are not enough.
std::optional<TriangleSurface> coil_former(const Coil& coil);

}  // namespace cw
