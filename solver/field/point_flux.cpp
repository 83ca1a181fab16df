#include "solver/field/point_flux.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "solver/fem/triangle.hpp"

namespace cw {
namespace {

/// Reference coordinates of a place in a (curved) triangle by Newton's method; empty outside.
std::optional<std::array<double, 2>> inside(const TrianglePoints& p, Point place) {
  double x = 1. / 3, y = 1. / 3;
  for (int step = 0; step < 8; ++step) {
    const auto n = shape_values(x, y);
    const auto g = shape_gradients(x, y);
    Point at, dx, dy;
    for (int k = 0; k < 6; ++k) {
      at = at + n[k] * p[k];
      dx = dx + g(0, k) * p[k];
      dy = dy + g(1, k) * p[k];
    }
    const Point gap = place - at;
    const double det = dx.r * dy.z - dx.z * dy.r;
    const double mx = (gap.r * dy.z - gap.z * dy.r) / det, my = (dx.r * gap.z - dx.z * gap.r) / det;
    x += mx;
    y += my;
    if (std::abs(mx) + std::abs(my) < 1e-10) break;
    if (std::abs(x) + std::abs(y) > 10) return std::nullopt;
  }
  constexpr double slack = 1e-6;
  if (x < -slack || y < -slack || x + y > 1 + slack) return std::nullopt;
  return std::array{std::max(0.0, x), std::max(0.0, y)};
}

/// Whether the box of the nodes, widened for a bulging side, holds the place.
bool near(const TrianglePoints& p, Point place) {
  const auto [left, right] =
      std::minmax_element(p.begin(), p.end(), [](Point a, Point b) { return a.r < b.r; });
  const auto [low, high] =
      std::minmax_element(p.begin(), p.end(), [](Point a, Point b) { return a.z < b.z; });
  const double wide = 0.15 * std::max(right->r - left->r, high->z - low->z);
  return place.r >= left->r - wide && place.r <= right->r + wide && place.z >= low->z - wide &&
         place.z <= high->z + wide;
}

}  // namespace

PointFlux::PointFlux(const Mesh& mesh, const FieldSolution& field)
    : mesh_(mesh), field_(field), coefficients_(OpenBoundary(mesh).coefficients(field.potential)) {}

std::array<std::complex<double>, 2> PointFlux::operator()(Point p) const {
  if (std::hypot(p.r, p.z - mesh_.centre.z) < mesh_.open_radius)
    for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
      const TrianglePoints points = triangle_points(mesh_, t);
      if (!near(points, p)) continue;
      if (const auto at = inside(points, p)) {
        const FieldPoint f = field_at(mesh_, field_, t, (*at)[0], (*at)[1]);
        return {f.flux_r, f.flux_z};
      }
    }
  return exterior_flux(mesh_, coefficients_, p);
}

}  // namespace cw
