#pragma once

#include <array>
#include <vector>

#include "tests/published/reference/loops.hpp"

namespace cw::reference {

/// A place or a vector in space, the coil's axis along z [m], or [T] per ampere.
using Space = std::array<double, 3>;

/// Flux density of one ampere along the straight pieces from corner to corner [T]: Biot and
/// Savart's law, each piece in closed form.
Space flux_of_path(const std::vector<Space>& corners, const Space& at);

/// A helix wound about z, from azimuth 0 at `bottom` to `top` [m]; right-handed or not.
struct WoundHelix {
  double radius, bottom, top, turns;
  bool right_handed;
};
/// Its centreline in `pieces` straight pieces a turn.
std::vector<Space> helix_path(const WoundHelix& helix, int pieces);

/// A current on a coaxial loop, per ampere of the coil.
struct LoopCurrent {
  double radius, height, share;
};

/// Tubes in series and a solid rod on the axis, all with a skin so thin that no flux enters: sizes
/// are those of the surface that keeps it out [m]. A rod radius of 0: no rod.
struct ScreenedCoil {
  std::vector<Torus> tubes;
  std::vector<double> heights;  ///< of the tubes
  double rod_radius, rod_low, rod_high;
};

/// The currents of its surfaces as loops, one per strip: r A is the same all over a tube, nothing
/// on the rod, and a tube carries one ampere. Strips of even current, their own flux by the
/// geometric mean distance 0.2231 width of a flat strip (Maxwell; Grover, Inductance Calculations,
/// from memory).
std::vector<LoopCurrent> surface_currents(const ScreenedCoil& coil, int strips_a_tube,
                                          double rod_strip);

/// Flux density of loops at (x, 0, z) [T] per ampere of the coil: radial, axial.
LoopField flux_of_loops(const std::vector<LoopCurrent>& loops, double x, double z);

}  // namespace cw::reference
