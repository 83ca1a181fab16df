#pragma once

#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "mesh/planar/point.hpp"

namespace cw {

// Plane geometry of closed outlines; the last corner is joined to the first. Lengths in metres;
// points nearer than `touching` count as equal.

inline constexpr double touching = 1e-9;  ///< [m]

/// A side of an outline, from one corner to the next.
struct Segment {
  Point a, b;
};

std::vector<Segment> sides(std::span<const Point> outline);

/// Signed area [m2], positive counter-clockwise.
double area(std::span<const Point> outline);

/// Half the thickness of a plate, the radius of a rod: area over surface, without the axis [m]; 0
/// for an outline without surface.
double half_thickness(std::span<const Point> outline);

/// Inside, and more than `slack` [m] from every side; the sides may be those of an outline and its
/// holes.
bool inside(Point point, std::span<const Segment> sides, double slack = touching);
bool inside(Point point, std::span<const Point> outline);

/// Shortest distance [m].
double distance(Point point, const Segment& side);
double distance(const Segment& one, const Segment& other);
double distance(Point point, std::span<const Segment> sides);
double distance(Point point, std::span<const Point> outline);

/// Two sides of one outline that cross or touch without being neighbours, or neighbours that fold
/// back.
std::optional<std::pair<std::size_t, std::size_t>> crossing(std::span<const Point> outline);

/// Innermost and outermost radius at a height [m]; none above and below the outline.
std::optional<std::pair<double, double>> radii_at(std::span<const Point> outline, double z);

/// Whether the insides share any area; touching sides and corners do not count.
bool overlap(std::span<const Point> one, std::span<const Point> other);

}  // namespace cw
