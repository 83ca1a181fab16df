#include "cases/read/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace cw::cases {

namespace {

Corner operator-(Corner a, Corner b) {
  return {a.r - b.r, a.z - b.z};
}
double cross(Corner a, Corner b) {
  return a.r * b.z - a.z * b.r;
}
double dot(Corner a, Corner b) {
  return a.r * b.r + a.z * b.z;
}
double norm(Corner a) {
  return std::hypot(a.r, a.z);
}

Corner along(const Side& side, double t) {
  return {side.a.r + t * (side.b.r - side.a.r), side.a.z + t * (side.b.z - side.a.z)};
}

/// Where `side` meets the sides of `outline`, as parameters 0..1, ends included, sorted.
std::vector<double> cuts(const Side& side, std::span<const Corner> outline) {
  std::vector<double> at = {0.0, 1.0};
  const Corner d = side.b - side.a;
  for (const Side& other : sides(outline)) {
    if (distance(side, other) > touching) continue;
    const Corner e = other.b - other.a;
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

/// Some stretch of the outline of `one` runs strictly inside `other`.
bool enters(std::span<const Corner> one, std::span<const Corner> other) {
  for (const Side& side : sides(one)) {
    const auto at = cuts(side, other);
    for (std::size_t i = 1; i < at.size(); ++i) {
      if (inside(along(side, (at[i - 1] + at[i]) / 2.0), other)) return true;
    }
  }
  return false;
}

/// A point inside, just beside the middle of the longest side.
Corner inner_point(std::span<const Corner> outline) {
  const auto all = sides(outline);
  const Side& side =
      *std::ranges::max_element(all, {}, [](const Side& s) { return norm(s.b - s.a); });
  const Corner middle = along(side, 0.5), d = side.b - side.a;
  const double turn = area(outline) > 0.0 ? 1.0 : -1.0;
  double step = 0.25;
  for (int halvings = 0; halvings < 18; ++halvings, step /= 2.0) {
    const Corner point = {middle.r - turn * step * d.z, middle.z + turn * step * d.r};
    if (inside(point, outline)) return point;
  }
  return middle;
}

/// `one` lies wholly below or left of `other`: most pairs, told without looking at their sides.
bool apart(std::span<const Corner> one, std::span<const Corner> other) {
  return std::ranges::max(one, {}, &Corner::r).r <= std::ranges::min(other, {}, &Corner::r).r ||
         std::ranges::max(one, {}, &Corner::z).z <= std::ranges::min(other, {}, &Corner::z).z;
}

}  // namespace

std::vector<Side> sides(std::span<const Corner> outline) {
  std::vector<Side> all;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    all.push_back({outline[i], outline[(i + 1) % outline.size()]});
  }
  return all;
}

double area(std::span<const Corner> outline) {
  double twice = 0.0;
  for (const Side& side : sides(outline)) twice += cross(side.a - outline[0], side.b - outline[0]);
  return twice / 2.0;
}

bool inside(Corner point, std::span<const Corner> outline) {
  if (distance(point, outline) <= touching) return false;
  bool odd = false;
  for (const Side& side : sides(outline)) {
    if ((side.a.z > point.z) == (side.b.z > point.z)) continue;
    const double r =
        side.a.r + (point.z - side.a.z) / (side.b.z - side.a.z) * (side.b.r - side.a.r);
    if (point.r < r) odd = !odd;
  }
  return odd;
}

double distance(Corner point, const Side& side) {
  const Corner d = side.b - side.a;
  const double length2 = dot(d, d);
  const double t = length2 > 0.0 ? std::clamp(dot(point - side.a, d) / length2, 0.0, 1.0) : 0.0;
  return norm(point - along(side, t));
}

double distance(const Side& one, const Side& other) {
  const Corner d = one.b - one.a, e = other.b - other.a;
  const double det = cross(d, e);
  if (det != 0.0) {
    const double t = cross(other.a - one.a, e) / det, u = cross(other.a - one.a, d) / det;
    if (t >= 0.0 && t <= 1.0 && u >= 0.0 && u <= 1.0) return 0.0;
  }
  return std::min({distance(one.a, other), distance(one.b, other), distance(other.a, one),
                   distance(other.b, one)});
}

double distance(Corner point, std::span<const Corner> outline) {
  double least = std::numeric_limits<double>::infinity();
  for (const Side& side : sides(outline)) least = std::min(least, distance(point, side));
  return least;
}

std::optional<std::pair<std::size_t, std::size_t>> crossing(std::span<const Corner> outline) {
  const auto all = sides(outline);
  const std::size_t n = all.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      const bool after = j == i + 1, before = i == 0 && j == n - 1;
      if (!after && !before) {
        if (distance(all[i], all[j]) <= touching) return std::pair(i, j);
        continue;
      }
      // Neighbours share a corner; they must not run back over each other.
      const Side& first = after ? all[i] : all[j];
      const Side& second = after ? all[j] : all[i];
      const Corner d = first.b - first.a, e = second.b - second.a;
      if (dot(d, e) < 0.0 &&
          std::min(distance(first.a, second), distance(second.b, first)) <= touching) {
        return std::pair(i, j);
      }
    }
  }
  return std::nullopt;
}

bool overlap(std::span<const Corner> one, std::span<const Corner> other) {
  if (apart(one, other) || apart(other, one)) return false;
  return enters(one, other) || enters(other, one) || inside(inner_point(one), other) ||
         inside(inner_point(other), one);
}

}  // namespace cw::cases
