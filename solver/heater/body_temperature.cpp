#include "solver/heater/body_temperature.hpp"

#include <algorithm>
#include <limits>

#include "mesh/planar/outline.hpp"

namespace cw {

Temperature temperature_at(const TemperatureProfile& profile, double depth) {
  const auto below = std::find_if(profile.begin(), profile.end(),
                                  [&](const TemperaturePoint& p) { return p.depth >= depth; });
  if (below == profile.begin()) return profile.front().temperature;
  if (below == profile.end()) return profile.back().temperature;
  const TemperaturePoint &a = below[-1], &b = below[0];
  const double share = (depth - a.depth) / (b.depth - a.depth);
  return {a.temperature.kelvin + share * (b.temperature.kelvin - a.temperature.kelvin)};
}

double depth_below_outside(const Outline& outline, Point p) {
  double least = std::numeric_limits<double>::infinity();
  const double turn = area(outline.profile) > 0 ? 1.0 : -1.0;
  for (const Segment& side : sides(outline.profile)) {
    // Counter-clockwise, a side that runs down faces the axis, or lies on it.
    if (turn * (side.b.z - side.a.z) < -touching) continue;
    least = std::min(least, distance(Point{p.r, p.z}, side));
  }
  return least;
}

std::optional<double> depth_of_magnetism(const TemperatureProfile& profile,
                                         const Material& material) {
  if (!material.magnetisation) return std::nullopt;
  const Temperature curie = material.magnetisation->curie;
  for (std::size_t i = 0; i + 1 < profile.size(); ++i) {
    const TemperaturePoint &a = profile[i], &b = profile[i + 1];
    if (a.temperature < curie || b.temperature >= curie) continue;
    const double share =
        (a.temperature.kelvin - curie.kelvin) / (a.temperature.kelvin - b.temperature.kelvin);
    return a.depth + share * (b.depth - a.depth);
  }
  return std::nullopt;
}

}  // namespace cw
