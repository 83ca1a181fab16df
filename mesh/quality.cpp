#include "mesh/quality.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"

namespace cw {

namespace {

struct TriangleQuality {
  double jacobian, smallest_angle, largest_angle, aspect;
};

/// det J at the six nodes over its mean: a second-order triangle is sound when all are positive.
double scaled_jacobian(const std::array<Point, 6>& p) {
  constexpr std::array<std::array<double, 2>, 6> at{
      {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}}};
  double least = 1e300, sum = 0;
  for (const auto& [x, y] : at) {
    const double w = 1 - x - y;
    const std::array<double, 6> dx{1 - 4 * w, 4 * x - 1, 0, 4 * (w - x), 4 * y, -4 * y};
    const std::array<double, 6> dy{1 - 4 * w, 0, 4 * y - 1, -4 * x, 4 * x, 4 * (w - y)};
    Point a{}, b{};
    for (std::size_t i = 0; i < 6; ++i) {
      a = a + dx[i] * p[i];
      b = b + dy[i] * p[i];
    }
    const double det = a.r * b.z - a.z * b.r;
    least = std::min(least, det);
    sum += det / 6;
  }
  return sum > 0 ? least / sum : -1.0;
}

TriangleQuality judge(const std::array<Point, 6>& p) {
  const double a = distance(p[1], p[2]), b = distance(p[2], p[0]), c = distance(p[0], p[1]);
  const double twice =
      std::abs((p[1].r - p[0].r) * (p[2].z - p[0].z) - (p[2].r - p[0].r) * (p[1].z - p[0].z));
  const auto angle = [&](double opposite, double s, double t) {
    return std::atan2(twice, 0.5 * (s * s + t * t - opposite * opposite)) * 180 / std::numbers::pi;
  };
  const std::array<double, 3> angles{angle(a, b, c), angle(b, c, a), angle(c, a, b)};
  const double longest = std::max({a, b, c});
  return {scaled_jacobian(p), *std::min_element(angles.begin(), angles.end()),
          *std::max_element(angles.begin(), angles.end()),
          longest * longest / std::max(twice, 1e-300)};
}

}  // namespace

std::vector<RegionQuality> quality_report(const Mesh& mesh) {
  std::vector<RegionQuality> all(mesh.region_name.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i].region = mesh.region_name[i];
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    std::array<Point, 6> p;
    for (std::size_t i = 0; i < 6; ++i) p[i] = mesh.nodes[mesh.triangles[t][i]];
    const TriangleQuality q = judge(p);
    RegionQuality& r = all[mesh.region[t]];
    ++r.triangles;
    if (q.jacobian < r.smallest_jacobian || q.largest_angle > r.largest_angle)
      r.worst = (1.0 / 3) * (p[0] + p[1] + p[2]);
    r.smallest_jacobian = std::min(r.smallest_jacobian, q.jacobian);
    r.smallest_angle = std::min(r.smallest_angle, q.smallest_angle);
    r.largest_angle = std::max(r.largest_angle, q.largest_angle);
    r.largest_aspect = std::max(r.largest_aspect, q.aspect);
  }
  std::erase_if(all, [](const RegionQuality& r) { return r.triangles == 0; });
  return all;
}

void require_quality(const Mesh& mesh) {
  for (const RegionQuality& r : quality_report(mesh))
    if (r.smallest_jacobian < 0.1 || r.largest_angle > 179.0)
      throw MeshError(
          fmt::format("region {}: the triangle at r = {:.4g} mm, z = {:.4g} mm is {} (relative "
                      "Jacobian {:.3f}, largest angle {:.1f} deg); "
                      "bodies that nearly touch or very thin slots cause this: leave a clear gap "
                      "or let them touch",
                      r.region, 1e3 * r.worst.r, 1e3 * r.worst.z,
                      r.smallest_jacobian <= 0 ? "folded" : "nearly flat", r.smallest_jacobian,
                      r.largest_angle));
}

}  // namespace cw
