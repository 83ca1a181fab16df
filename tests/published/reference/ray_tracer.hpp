#pragma once

#include <cstdint>
#include <vector>

namespace cw::reference {

/// A coaxial ring of metal: centre of its section, half its sizes [m]; round when half sizes are
/// those of a circle.
struct MetalRing {
  double radius, height;
  double half_radial, half_axial;
  bool round;
};

/// A solid rod on the axis from `low` to `high` [m], rings round it, black surroundings far away.
/// All surfaces are grey and emit and reflect diffusely.
struct RodInRings {
  double radius, low, high;
  double rod_emissivity;
  std::vector<MetalRing> rings;
  double ring_emissivity;
};

/// A band of the rod's side from which rays start [m].
struct Band {
  double low, high;
};

/// Shares of the radiation of a part of the rod that the rings and the surroundings finally absorb,
/// after any number of reflections; the rest returns to the rod. `spread` is one standard deviation
/// of their sum.
struct Taken {
  double by_rings, by_room;
  double spread;
};

/// By tracing `rays` rays in three dimensions, each until it is absorbed: a Monte Carlo computation
/// without view factors. The distance to the nearest surface tells how far a ray can move in one
/// step. The same seed gives the same figures.
Taken taken_from_side(const RodInRings& place, const Band& band, int rays, std::uint64_t seed);

/// The same of one end face, the upper or the lower.
Taken taken_from_end(const RodInRings& place, bool upper, int rays, std::uint64_t seed);

/// Share of diffuse radiation falling on an endless plane row of round bars, `pitch` apart with the
/// given diameter, that meets a bar: 1 - sqrt(1 - x^2) + x atan(sqrt(1/x^2 - 1)), x the diameter
/// over the pitch, by crossed strings. Source: H. C. Hottel, A. F. Sarofim, Radiative Transfer,
/// 1967 (from memory).
double share_met_by_bars(double diameter_over_pitch);

}  // namespace cw::reference
