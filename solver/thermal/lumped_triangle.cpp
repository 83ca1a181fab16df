#include "solver/thermal/lumped_triangle.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numeric>

namespace cw {
namespace {

/// Share of the mean radius in the weight of triangles on the axis; a choice of this project.
constexpr double axis_blend = 1e-3;

struct Site {
  double x, y, weight;
};
/// Nodes as quadrature points, weights of area 1/2 in all: 1/20, 2/15, 9/20 of the area.
constexpr std::array<Site, 7> sites{{{0, 0, 1. / 40},
                                     {1, 0, 1. / 40},
                                     {0, 1, 1. / 40},
                                     {.5, 0, 1. / 15},
                                     {.5, .5, 1. / 15},
                                     {0, .5, 1. / 15},
                                     {1. / 3, 1. / 3, 9. / 40}}};

struct Map {
  Point at;
  Eigen::Matrix2d jacobian;  ///< rows d/dx, d/dy of (r, z)
};

Map map_at(const TrianglePoints& p, double x, double y) {
  const auto value = shape_values(x, y);
  const auto gradient = shape_gradients(x, y);
  Map map{{}, Eigen::Matrix2d::Zero()};
  for (int i = 0; i < 6; ++i) {
    map.at = map.at + value[i] * p[i];
    map.jacobian.col(0) += gradient.col(i) * p[i].r;
    map.jacobian.col(1) += gradient.col(i) * p[i].z;
  }
  return map;
}

Sample<7> sample_of(const TrianglePoints& points, const TriangleRule::Node& node) {
  const Map map = map_at(points, node.x, node.y);
  return {lumped_values(node.x, node.y), map.jacobian.inverse() * lumped_gradients(node.x, node.y),
          map.at.r, node.weight * map.jacobian.determinant()};
}

}  // namespace

Eigen::Vector<double, 7> lumped_values(double x, double y) {
  const double bubble = x * y * (1 - x - y);
  Eigen::Vector<double, 7> n;
  n.head<6>() = shape_values(x, y);
  n.head<3>().array() += 3 * bubble;
  n.segment<3>(3).array() -= 12 * bubble;
  n[6] = 27 * bubble;
  return n;
}

Eigen::Matrix<double, 2, 7> lumped_gradients(double x, double y) {
  const Eigen::Vector2d bubble(y * (1 - 2 * x - y), x * (1 - x - 2 * y));
  Eigen::Matrix<double, 2, 7> g;
  g.leftCols<6>() = shape_gradients(x, y);
  for (int i = 0; i < 3; ++i) {
    g.col(i) += 3 * bubble;
    g.col(3 + i) -= 12 * bubble;
  }
  g.col(6) = 27 * bubble;
  return g;
}

LumpedTriangle lumped_triangle(const TrianglePoints& points) {
  LumpedTriangle t;
  double area = 0.0, moment = 0.0;
  for (std::size_t q = 0; q < t.samples.size(); ++q) {
    const auto& s = t.samples[q] = sample_of(points, TriangleRule::nodes()[q]);
    area += s.area;
    moment += s.radius * s.area;
  }
  t.mean_radius = moment / area;
  const double tiny = 1e-9 * t.mean_radius;
  t.on_axis = std::any_of(points.begin(), points.end(), [&](Point p) { return p.r < tiny; });
  const double blend = t.on_axis ? axis_blend : 0.0;
  for (std::size_t i = 0; i < sites.size(); ++i) {
    const Map map = map_at(points, sites[i].x, sites[i].y);
    const double radius = (1 - blend) * map.at.r + blend * t.mean_radius;
    t.volume[i] = two_pi * radius * sites[i].weight * map.jacobian.determinant();
    t.centre = map.at;
  }
  const double sum = std::accumulate(t.volume.begin(), t.volume.end(), 0.0);
  for (double& v : t.volume) v *= two_pi * moment / sum;
  return t;
}

std::array<double, 7> nodal_power(const LumpedTriangle& t, const std::array<double, 12>& density) {
  const double blend = t.on_axis ? axis_blend : 0.0;
  Eigen::Vector<double, 7> power = Eigen::Vector<double, 7>::Zero();
  double total = 0.0;
  for (std::size_t q = 0; q < density.size(); ++q) {
    const auto& s = t.samples[q];
    const double radius = (1 - blend) * s.radius + blend * t.mean_radius;
    power += s.value * (density[q] * two_pi * radius * s.area);
    total += density[q] * two_pi * s.radius * s.area;
  }
  if (t.on_axis && power.sum() != 0.0) power *= total / power.sum();
  std::array<double, 7> out{};
  for (int i = 0; i < 7; ++i) out[i] = power[i];
  return out;
}

}  // namespace cw
