#include "mesh/planar/outline.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace cw {

namespace {

double norm(Point a) {
  return std::hypot(a.r, a.z);
}

Point along(const Segment& side, double t) {
  return {side.a.r + t * (side.b.r - side.a.r), side.a.z + t * (side.b.z - side.a.z)};
}

/// Parameters 0..1 along `side` at which it meets the sides of `outline`, ends included, sorted.
std::vector<double> cuts(const Segment& side, std::span<const Point> outline) {
  std::vector<double> at = {0.0, 1.0};
  const Point d = side.b - side.a;
  for (const Segment& other : sides(outline)) {
    if (distance(side, other) > touching) continue;
    const Point e = other.b - other.a;
    const double det = cross(d, e);
    if (std::abs(det) > 1e-12 * norm(d) * norm(e)) {
      at.push_back(cross(other.a - side.a, e) / det);
    }
    at.push_back(dot(other.a - side.a, d) / dot(d, d));  // corners beside a parallel side
  }
  std::erase_if(at, [](double t) { return !(t >= 0.0 && t <= 1.0); });
  std::ranges::sort(at);
  return at;
}

/// Whether any part of the outline of `one` lies strictly inside `other`.
bool enters(std::span<const Point> one, std::span<const Point> other) {
  for (const Segment& side : sides(one)) {
    const auto at = cuts(side, other);
    for (std::size_t i = 1; i < at.size(); ++i) {
      if (inside(along(side, (at[i - 1] + at[i]) / 2.0), other)) return true;
    }
  }
  return false;
}

/// A point inside, just beside the middle of the longest side.
Point inner_point(std::span<const Point> outline) {
  const auto all = sides(outline);
  const Segment& side =
      *std::ranges::max_element(all, {}, [](const Segment& s) { return norm(s.b - s.a); });
  const Point middle = along(side, 0.5), d = side.b - side.a;
  const double turn = area(outline) > 0.0 ? 1.0 : -1.0;
  double step = 0.25;
  for (int halvings = 0; halvings < 18; ++halvings, step /= 2.0) {
    const Point point = {middle.r - turn * step * d.z, middle.z + turn * step * d.r};
    if (inside(point, outline)) return point;
  }
  return middle;
}

/// Whether `one` lies wholly below or left of `other`: true for most pairs, and quick to check.
bool apart(std::span<const Point> one, std::span<const Point> other) {
  return std::ranges::max(one, {}, &Point::r).r <= std::ranges::min(other, {}, &Point::r).r ||
         std::ranges::max(one, {}, &Point::z).z <= std::ranges::min(other, {}, &Point::z).z;
}

}  // namespace

std::vector<Segment> sides(std::span<const Point> outline) {
  std::vector<Segment> all;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    all.push_back({outline[i], outline[(i + 1) % outline.size()]});
  }
  return all;
}

double area(std::span<const Point> outline) {
  double twice = 0.0;
  for (const Segment& side : sides(outline))
    twice += cross(side.a - outline[0], side.b - outline[0]);
  return twice / 2.0;
}

double half_thickness(std::span<const Point> outline) {
  double area = 0.0, surface = 0.0;
  for (const auto& [a, b] : sides(outline)) {
    area += 0.5 * cross(a, b);
    if (a.r > 0 || b.r > 0) surface += distance(a, b);
  }
  return surface > 0 ? std::abs(area) / surface : 0.0;
}

bool inside(Point point, std::span<const Point> outline) {
  return inside(point, sides(outline));
}

bool inside(Point point, std::span<const Segment> sides, double slack) {
  if (distance(point, sides) <= slack) return false;
  bool odd = false;
  for (const Segment& side : sides) {
    if ((side.a.z > point.z) == (side.b.z > point.z)) continue;
    const double r =
        side.a.r + (point.z - side.a.z) / (side.b.z - side.a.z) * (side.b.r - side.a.r);
    if (point.r < r) odd = !odd;
  }
  return odd;
}

double distance(Point point, const Segment& side) {
  const Point d = side.b - side.a;
  const double length2 = dot(d, d);
  const double t = length2 > 0.0 ? std::clamp(dot(point - side.a, d) / length2, 0.0, 1.0) : 0.0;
  return norm(point - along(side, t));
}

double distance(const Segment& one, const Segment& other) {
  const Point d = one.b - one.a, e = other.b - other.a;
  const double det = cross(d, e);
  if (det != 0.0) {
    const double t = cross(other.a - one.a, e) / det, u = cross(other.a - one.a, d) / det;
    if (t >= 0.0 && t <= 1.0 && u >= 0.0 && u <= 1.0) return 0.0;
  }
  return std::min({distance(one.a, other), distance(one.b, other), distance(other.a, one),
                   distance(other.b, one)});
}

double distance(Point point, std::span<const Point> outline) {
  return distance(point, sides(outline));
}

double distance(Point point, std::span<const Segment> sides) {
  double least = std::numeric_limits<double>::infinity();
  for (const Segment& side : sides) least = std::min(least, distance(point, side));
  return least;
}

std::optional<std::pair<std::size_t, std::size_t>> crossing(std::span<const Point> outline) {
  const auto all = sides(outline);
  const std::size_t n = all.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      const bool after = j == i + 1, before = i == 0 && j == n - 1;
      if (!after && !before) {
        if (distance(all[i], all[j]) <= touching) return std::pair(i, j);
        continue;
      }
      // Neighbours share a corner; they must not fold back over each other.
      const Segment& first = after ? all[i] : all[j];
      const Segment& second = after ? all[j] : all[i];
      const Point d = first.b - first.a, e = second.b - second.a;
      if (dot(d, e) < 0.0 &&
          std::min(distance(first.a, second), distance(second.b, first)) <= touching) {
        return std::pair(i, j);
      }
    }
  }
  return std::nullopt;
}

bool overlap(std::span<const Point> one, std::span<const Point> other) {
  if (apart(one, other) || apart(other, one)) return false;
  return enters(one, other) || enters(other, one) || inside(inner_point(one), other) ||
         inside(inner_point(other), one);
}

std::optional<std::pair<double, double>> radii_at(std::span<const Point> outline, double z) {
  std::optional<std::pair<double, double>> radii;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
    if ((a.z < z) == (b.z < z)) continue;
    const double r = a.r + (z - a.z) / (b.z - a.z) * (b.r - a.r);
    radii =
        radii ? std::pair(std::min(radii->first, r), std::max(radii->second, r)) : std::pair(r, r);
  }
  return radii;
}

}  // namespace cw
