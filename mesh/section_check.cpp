#include "mesh/section_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mesh/generate.hpp"
#include "mesh/planar/outline.hpp"

namespace cw {

namespace {

std::vector<Segment> sides_of(const Polygon& polygon) {
  std::vector<Segment> all = sides(polygon.outline);
  for (const auto& hole : polygon.holes)
    for (const Segment& side : sides(hole)) all.push_back(side);
  return all;
}

/// Whether both ends of each side lie clearly on different sides of the other.
bool cross_each_other(const Segment& a, const Segment& b, double slack) {
  const auto off = [](const Segment& s, Point p) {
    return cross(s.b - s.a, p - s.a) / distance(s.a, s.b);
  };
  const double a1 = off(a, b.a), a2 = off(a, b.b), b1 = off(b, a.a), b2 = off(b, a.b);
  const auto differ = [&](double x, double y) {
    return std::min(x, y) < -slack && std::max(x, y) > slack;
  };
  return differ(a1, a2) && differ(b1, b2);
}

bool overlap(const Disc& a, const Disc& b, double slack) {
  return distance(a.centre, b.centre) < a.radius + b.radius + slack;
}

bool overlap(const Disc& disc, const Polygon& polygon, double slack) {
  const auto sides = sides_of(polygon);
  return distance(disc.centre, sides) < disc.radius + slack || inside(disc.centre, sides, slack);
}

bool overlap(const Polygon& a, const Polygon& b, double slack) {
  const auto sides_a = sides_of(a), sides_b = sides_of(b);
  for (const Segment& s : sides_a)
    for (const Segment& t : sides_b)
      if (cross_each_other(s, t, slack)) return true;
  // Corners and middles of sides: a body that covers another has no crossing sides.
  const auto any_inside = [&](const std::vector<Segment>& these,
                              const std::vector<Segment>& those) {
    return std::any_of(these.begin(), these.end(), [&](const Segment& s) {
      return inside(s.a, those, slack) || inside(0.5 * (s.a + s.b), those, slack);
    });
  };
  return any_inside(sides_a, sides_b) || any_inside(sides_b, sides_a);
}

void require_sound(const SectionRegion& region, double slack) {
  const auto refuse = [&](const char* why) {
    throw MeshError(fmt::format("region {}: {}", region.name, why));
  };
  if (const auto* disc = std::get_if<Disc>(&region.shape)) {
    if (!(disc->radius > slack) || !(disc->bore >= 0) || disc->bore > disc->radius - slack)
      refuse("its radius must be positive and larger than its bore");
    if (disc->centre.r != 0 && disc->centre.r < disc->radius + slack)
      refuse("it reaches across the axis");
    return;
  }
  const auto& polygon = std::get<Polygon>(region.shape);
  if (polygon.outline.size() < 3 || area(polygon.outline) < slack * slack)
    refuse("its outline must enclose an area, counter-clockwise");
  const auto sides = sides_of(polygon);
  for (std::size_t i = 0; i < sides.size(); ++i) {
    if (distance(sides[i].a, sides[i].b) < slack) refuse("two of its corners coincide");
    if (sides[i].a.r < 0) refuse("it reaches across the axis");
    for (std::size_t j = 0; j < i; ++j)
      if (cross_each_other(sides[i], sides[j], slack)) refuse("its outline crosses itself");
  }
}

}  // namespace

void require_disjoint(const Section& section) {
  double extent = 0;
  for (const SectionRegion& region : section.regions)
    if (const auto* disc = std::get_if<Disc>(&region.shape))
      extent = std::max(extent, std::hypot(disc->centre.r, disc->centre.z) + disc->radius);
    else
      for (const Point p : std::get<Polygon>(region.shape).outline)
        extent = std::max(extent, std::hypot(p.r, p.z));
  const double slack = 1e-9 * extent;
  for (std::size_t i = 0; i < section.regions.size(); ++i) {
    const SectionRegion& a = section.regions[i];
    require_sound(a, slack);
    for (std::size_t j = 0; j < i; ++j) {
      const SectionRegion& b = section.regions[j];
      const bool bad = std::visit(
          [&](const auto& x, const auto& y) {
            if constexpr (std::is_same_v<decltype(x), const Polygon&> &&
                          std::is_same_v<decltype(y), const Disc&>)
              return overlap(y, x, slack);
            else
              return overlap(x, y, slack);
          },
          a.shape, b.shape);
      if (bad)
        throw MeshError(fmt::format("region {} and region {} overlap or touch where they must not",
                                    b.name, a.name));
    }
  }
}

}  // namespace cw
