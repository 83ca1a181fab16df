#include "solver/fem/triangle.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>

namespace cw {

Eigen::Vector<double, 6> shape_values(double x, double y) {
  const double w = 1 - x - y;
  return {w * (2 * w - 1), x * (2 * x - 1), y * (2 * y - 1), 4 * w * x, 4 * x * y, 4 * y * w};
}

Eigen::Matrix<double, 2, 6> shape_gradients(double x, double y) {
  const double w = 1 - x - y;
  Eigen::Matrix<double, 2, 6> g;
  g << 1 - 4 * w, 4 * x - 1, 0, 4 * (w - x), 4 * y, -4 * y,  //
      1 - 4 * w, 0, 4 * y - 1, -4 * x, 4 * x, 4 * (w - y);
  return g;
}

namespace {

/// Shape functions of the reference triangle, tabulated once per quadrature node.
struct Tabulated {
  Eigen::Vector<double, 6> value;
  Eigen::Matrix<double, 2, 6> gradient;
};

Sample<6> mapped(const TrianglePoints& points, const Tabulated& t, double weight) {
  Eigen::Matrix2d jacobian = Eigen::Matrix2d::Zero();  // rows d/dx, d/dy; columns r, z
  double radius = 0;
  for (int i = 0; i < 6; ++i) {
    jacobian.col(0) += t.gradient.col(i) * points[i].r;
    jacobian.col(1) += t.gradient.col(i) * points[i].z;
    radius += t.value[i] * points[i].r;
  }
  const double det = jacobian.determinant();
  assert(det > 0);
  return {t.value, jacobian.inverse() * t.gradient, radius, weight * det};
}

/// Whether the mid-edge nodes lie in the middle of straight edges.
bool has_straight_sides(const TrianglePoints& p) {
  const double size = std::abs(p[1].r - p[0].r) + std::abs(p[1].z - p[0].z);
  for (std::size_t k = 0; k < 3; ++k) {
    const Point off = p[3 + k] - 0.5 * (p[k] + p[(k + 1) % 3]);
    if (std::abs(off.r) + std::abs(off.z) > 1e-12 * size) return false;
  }
  return true;
}

const std::array<Tabulated, 12>& tabulated() {
  static const std::array<Tabulated, 12> table = [] {
    std::array<Tabulated, 12> all;
    for (std::size_t q = 0; q < 12; ++q) {
      const auto& n = TriangleRule::nodes()[q];
      all[q] = {shape_values(n.x, n.y), shape_gradients(n.x, n.y)};
    }
    return all;
  }();
  return table;
}

}  // namespace

const std::array<TriangleRule::Node, 12>& TriangleRule::nodes() {
  constexpr double a = 0.063089014491502, wa = 0.5 * 0.050844906370207;
  constexpr double b = 0.249286745170910, wb = 0.5 * 0.116786275726379;
  constexpr double c = 0.310352451033784, d = 0.053145049844817, wc = 0.5 * 0.082851075618374;
  constexpr double e = 1 - c - d;
  static constexpr std::array<Node, 12> rule{{{a, a, wa},
                                              {1 - 2 * a, a, wa},
                                              {a, 1 - 2 * a, wa},
                                              {b, b, wb},
                                              {1 - 2 * b, b, wb},
                                              {b, 1 - 2 * b, wb},
                                              {c, d, wc},
                                              {d, c, wc},
                                              {c, e, wc},
                                              {e, c, wc},
                                              {d, e, wc},
                                              {e, d, wc}}};
  return rule;
}

const Eigen::Vector<double, 6>& rule_shape(std::size_t node) {
  return tabulated()[node].value;
}

Point place_of(const Sample<6>& plain, const TrianglePoints& points) {
  double z = 0;
  for (int i = 0; i < 6; ++i) z += plain.value[i] * points[i].z;
  return {plain.radius, z};
}

TriangleMap::TriangleMap(const TrianglePoints& points)
    : points_(points),
      straight_(has_straight_sides(points)),
      across_(points[1] - points[0]),
      up_(points[2] - points[0]),
      det_(across_.r * up_.z - across_.z * up_.r) {
  inverse_ << up_.z, -across_.z, -up_.r, across_.r;
  inverse_ /= det_;
}

Sample<6> TriangleMap::at(double x, double y, double weight) const {
  const Tabulated t{shape_values(x, y), shape_gradients(x, y)};
  if (!straight_) return mapped(points_, t, weight);
  return {t.value, inverse_ * t.gradient, points_[0].r + x * across_.r + y * up_.r, weight * det_};
}

Sample<6> TriangleMap::at(std::size_t node) const {
  const Tabulated& t = tabulated()[node];
  const TriangleRule::Node& n = TriangleRule::nodes()[node];
  if (!straight_) return mapped(points_, t, n.weight);
  return {t.value, inverse_ * t.gradient, points_[0].r + n.x * across_.r + n.y * up_.r,
          n.weight * det_};
}

Sample<6> sample_at(const TrianglePoints& points, double x, double y, double weight) {
  return TriangleMap(points).at(x, y, weight);
}

TriangleSamples triangle_samples(const TrianglePoints& points) {
  const TriangleMap map(points);
  TriangleSamples samples;
  for (std::size_t q = 0; q < samples.size(); ++q) samples[q] = map.at(q);
  return samples;
}

namespace {

/// (x, y) with x across + y up = gap.
std::array<double, 2> parts_along(Point gap, Point across, Point up) {
  const double det = across.r * up.z - across.z * up.r;
  return {(gap.r * up.z - gap.z * up.r) / det, (across.r * gap.z - across.z * gap.r) / det};
}

/// By Newton's method; outside if it leaves the triangle for good.
std::array<double, 2> curved_reference_point(const TrianglePoints& points, Point place) {
  double x = 1.0 / 3.0, y = 1.0 / 3.0;
  for (int step = 0; step < 8; ++step) {
    const Eigen::Vector<double, 6> n = shape_values(x, y);
    const Eigen::Matrix<double, 2, 6> slope = shape_gradients(x, y);
    Point at, along_x, along_y;
    for (int k = 0; k < 6; ++k) {
      const Point& p = points[static_cast<std::size_t>(k)];
      at = at + n[k] * p;
      along_x = along_x + slope(0, k) * p;
      along_y = along_y + slope(1, k) * p;
    }
    const auto [dx, dy] = parts_along(place - at, along_x, along_y);
    x += dx;
    y += dy;
    if (std::abs(dx) + std::abs(dy) < 1e-9) break;
    if (std::abs(x) + std::abs(y) > 10.0) return {-1.0, -1.0};
  }
  return {x, y};
}

}  // namespace

std::optional<std::array<double, 2>> TriangleMap::reference_of(Point place) const {
  const auto [x, y] = straight_ ? parts_along(place - points_[0], across_, up_)
                                : curved_reference_point(points_, place);
  constexpr double slack = 1e-7;
  // Written so that NaN counts as outside.
  if (!(x >= -slack && y >= -slack && x + y <= 1.0 + slack)) return {};
  return std::array{std::clamp(x, 0.0, 1.0), std::clamp(y, 0.0, 1.0)};
}

TrianglePoints triangle_points(const Mesh& mesh, std::size_t t) {
  TrianglePoints points;
  for (std::size_t i = 0; i < 6; ++i) points[i] = mesh.nodes[mesh.triangles[t][i]];
  return points;
}

std::optional<PlaceInMesh> find_place(const Mesh& mesh, Point place) {
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const TrianglePoints p = triangle_points(mesh, t);
    const auto [left, right] = std::minmax({p[0].r, p[1].r, p[2].r, p[3].r, p[4].r, p[5].r});
    const auto [low, high] = std::minmax({p[0].z, p[1].z, p[2].z, p[3].z, p[4].z, p[5].z});
    const double slack = 0.2 * (right - left + high - low);  // curved sides extend beyond the box
    if (place.r < left - slack || place.r > right + slack || place.z < low - slack ||
        place.z > high + slack)
      continue;
    if (const auto at = TriangleMap(p).reference_of(place))
      return PlaceInMesh{t, (*at)[0], (*at)[1]};
  }
  return {};
}

}  // namespace cw
