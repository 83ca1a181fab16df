#include "solver/field/surface_field.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

constexpr std::array<std::array<double, 2>, 3> corner{{{0, 0}, {1, 0}, {0, 1}}};

/// One edge of a triangle.
struct EdgeOf {
  int low, high;  ///< end nodes
  std::size_t triangle;
  int side;  ///< from corner `side` to the next
};

/// Edges of the region that belong to only one of its triangles, each with the triangle on its
/// other side, if there is one.
std::vector<std::pair<EdgeOf, const EdgeOf*>> surface_edges(const Mesh& mesh, RegionId region,
                                                            std::vector<EdgeOf>& all) {
  all.clear();
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (int k = 0; k < 3; ++k) {
      const int a = mesh.triangles[t][k], b = mesh.triangles[t][(k + 1) % 3];
      all.push_back({std::min(a, b), std::max(a, b), t, k});
    }
  std::sort(all.begin(), all.end(), [](const EdgeOf& a, const EdgeOf& b) {
    return std::tie(a.low, a.high, a.triangle) < std::tie(b.low, b.high, b.triangle);
  });
  std::vector<std::pair<EdgeOf, const EdgeOf*>> surface;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const bool shared =
        i + 1 < all.size() && all[i].low == all[i + 1].low && all[i].high == all[i + 1].high;
    const EdgeOf &first = all[i], &second = all[shared ? i + 1 : i];
    if (shared) ++i;
    const bool one = mesh.region[first.triangle] == region,
               two = mesh.region[second.triangle] == region;
    if (!shared && one) surface.emplace_back(first, nullptr);
    if (shared && one != two) surface.emplace_back(one ? first : second, one ? &second : &first);
  }
  return surface;
}

double tangential_field(const Mesh& mesh, const FieldSolution& field, const EdgeOf& e) {
  const Point a = mesh.nodes[e.low], b = mesh.nodes[e.high];
  const auto [x0, y0] = corner[e.side];
  const auto [x1, y1] = corner[(e.side + 1) % 3];
  const FieldPoint p = field_at(mesh, field, e.triangle, 0.5 * (x0 + x1), 0.5 * (y0 + y1));
  const Point along = (1 / distance(a, b)) * (b - a);
  return field.reluctivity_of(mesh, e.triangle) * std::abs(along.r * p.flux_r + along.z * p.flux_z);
}

double distance_to_segment(Point p, Point a, Point b) {
  const Point d = b - a;
  const double t = ((p.r - a.r) * d.r + (p.z - a.z) * d.z) / (d.r * d.r + d.z * d.z);
  return distance(p, a + std::clamp(t, 0.0, 1.0) * d);
}

}  // namespace

std::vector<SurfacePoint> surface_fields(const Mesh& mesh, const FieldSolution& field,
                                         RegionId region) {
  std::vector<EdgeOf> all;
  std::vector<SurfacePoint> points;
  for (const auto& [own, beyond] : surface_edges(mesh, region, all)) {
    const Point a = mesh.nodes[own.low], b = mesh.nodes[own.high], middle = 0.5 * (a + b);
    if (a.r == 0 && b.r == 0) continue;
    const bool linear = beyond != nullptr && !field.saturates(mesh.region[beyond->triangle]);
    const double h = tangential_field(mesh, field, linear ? *beyond : own);
    points.push_back({middle, h, 2 * std::numbers::pi * middle.r * distance(a, b)});
  }
  return points;
}

double largest_surface_field(const Mesh& mesh, const FieldSolution& field, RegionId region) {
  double largest = 0;
  for (const SurfacePoint& p : surface_fields(mesh, field, region))
    largest = std::max(largest, p.field_rms);
  return largest;
}

double loss_within(const Mesh& mesh, const FieldSolution& field, RegionId region, double depth) {
  std::vector<EdgeOf> all;
  std::vector<std::pair<Point, Point>> surface;
  for (const auto& [own, beyond] : surface_edges(mesh, region, all))
    if (mesh.nodes[own.low].r > 0 || mesh.nodes[own.high].r > 0)
      surface.emplace_back(mesh.nodes[own.low], mesh.nodes[own.high]);
  double loss = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    const FieldInTriangle inside(mesh, field, t);
    for (const auto& n : TriangleRule::nodes()) {
      const FieldPoint p = inside.at(n.x, n.y);
      const bool near = std::any_of(surface.begin(), surface.end(), [&](const auto& s) {
        return distance_to_segment(p.at, s.first, s.second) <= depth;
      });
      if (!near) continue;
      const Sample<6> s = sample_at(triangle_points(mesh, t), n.x, n.y, n.weight);
      loss += p.power_density * 2 * std::numbers::pi * s.radius * s.area;
    }
  }
  return loss;
}

}  // namespace cw
