#include "solver/thermal/height_cut.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cw {
namespace {

/// A corner of a piece of a triangle: reference coordinates and height.
struct Corner {
  double x, y, z;
};

/// The part of a polygon where sign (z - level) >= 0.
std::vector<Corner> kept(const std::vector<Corner>& all, double level, double sign) {
  std::vector<Corner> rest;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Corner &a = all[i], &b = all[(i + 1) % all.size()];
    const double from = sign * (a.z - level), to = sign * (b.z - level);
    if (from >= 0) rest.push_back(a);
    if ((from < 0) == (to < 0)) continue;
    const double s = from / (from - to);
    rest.push_back({a.x + s * (b.x - a.x), a.y + s * (b.y - a.y), level});
  }
  return rest;
}

/// Integrals of the shape functions over a triangle of reference coordinates within an element.
void add_integrals(const std::array<Point, 3>& at, const std::array<Corner, 3>& part,
                   std::array<double, 7>& sum) {
  const auto [a, b, c] = part;
  const Point along = at[1] - at[0], across = at[2] - at[0];
  const double part_area = std::abs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)),
               area = std::abs(along.r * across.z - along.z * across.r);
  for (const TriangleRule::Node& node : TriangleRule::nodes()) {
    const double x = a.x + node.x * (b.x - a.x) + node.y * (c.x - a.x),
                 y = a.y + node.x * (b.y - a.y) + node.y * (c.y - a.y);
    const double radius = at[0].r + x * along.r + y * across.r;
    const double volume = 2 * std::numbers::pi * radius * node.weight * part_area * area;
    const auto value = lumped_values(x, y);
    for (int i = 0; i < 7; ++i) sum[i] += volume * value[i];
  }
}

/// Reference coordinates of a point in a straight triangle.
std::array<double, 2> reference(const std::array<Point, 3>& p, Point at) {
  const Point a = p[1] - p[0], b = p[2] - p[0], d = at - p[0];
  const double det = a.r * b.z - a.z * b.r;
  return {(d.r * b.z - d.z * b.r) / det, (a.r * d.z - a.z * d.r) / det};
}

}  // namespace

std::optional<InnerPlace> place_inside(const ThermalMesh& mesh, RegionId region, Point at) {
  constexpr double slack = 1e-9;
  for (const auto& e : mesh.elements) {
    if (mesh.body[e.body].region != region) continue;
    const auto [x, y] =
        reference({mesh.at[e.unknown[0]], mesh.at[e.unknown[1]], mesh.at[e.unknown[2]]}, at);
    if (x < -slack || y < -slack || x + y > 1 + slack) continue;
    InnerPlace place{};
    const auto value = shape_values(x, y);
    for (int i = 0; i < 6; ++i) {
      place.unknown[i] = e.unknown[i];
      place.value[i] = value[i];
    }
    return place;
  }
  return std::nullopt;
}

std::vector<EdgePlace> places_at_height(const ThermalMesh& mesh, RegionId region, double z) {
  std::vector<EdgePlace> places;
  for (const auto& e : mesh.elements) {
    if (mesh.body[e.body].region != region) continue;
    for (int i = 0; i < 3; ++i) {
      const std::array<int, 3> edge{e.unknown[i], e.unknown[(i + 1) % 3], e.unknown[3 + i]};
      const Point a = mesh.at[edge[0]], b = mesh.at[edge[1]];
      const auto [low, high] = std::minmax(a.z, b.z);
      if (z < low || z > high || high - low < 1e-12) continue;
      const double s = 2 * (z - a.z) / (b.z - a.z) - 1;
      places.push_back({edge,
                        {.5 * s * (s - 1), .5 * s * (s + 1), 1 - s * s},
                        a.r + .5 * (s + 1) * (b.r - a.r)});
    }
  }
  return places;
}

std::array<double, 7> volume_between(const ThermalMesh& mesh, const ThermalMesh::Element& element,
                                     double low, double high) {
  const std::array<Point, 3> at{mesh.at[element.unknown[0]], mesh.at[element.unknown[1]],
                                mesh.at[element.unknown[2]]};
  const auto [bottom, top] = std::minmax({at[0].z, at[1].z, at[2].z});
  if (bottom >= low && top <= high) return element.shape.volume;
  std::array<double, 7> sum{};
  if (top <= low || bottom >= high) return sum;
  std::vector<Corner> part{{0, 0, at[0].z}, {1, 0, at[1].z}, {0, 1, at[2].z}};
  part = kept(kept(part, low, 1), high, -1);
  for (std::size_t i = 1; i + 1 < part.size(); ++i)
    add_integrals(at, {part[0], part[i], part[i + 1]}, sum);
  return sum;
}

}  // namespace cw
