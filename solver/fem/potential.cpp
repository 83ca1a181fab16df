#include "solver/fem/potential.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

namespace {

constexpr double square(double x) {
  return x * x;
}

/// Radius of the core and its derivative along the axis: a power mean of all cores, a^-4 = sum
/// a_i^-4, no larger than any of them; of each a_i^2 = radius^2 + d^2 at the distance d beyond its
/// ends.
struct CoreRadius {
  double value = 0.0, slope = 0.0;
};

CoreRadius core_radius(const std::vector<Core>& cores, double z) {
  double sum = 0, slope = 0;
  for (const Core& core : cores) {
    const double beyond = z > core.high ? z - core.high : z < core.low ? z - core.low : 0.0;
    const double a2 = square(core.radius) + square(beyond);
    sum += 1 / square(a2);
    slope -= 4 * beyond / (a2 * square(a2));
  }
  const double value = 1 / std::sqrt(std::sqrt(sum));
  return {value, -0.25 * slope * value / sum};
}

}  // namespace

PotentialWeight potential_weight(const Mesh& mesh, Point p) {
  if (mesh.cores.empty()) return {};
  const CoreRadius core = core_radius(mesh.cores, p.z);
  const double s = p.r / core.value;
  if (s >= 1) return {p.r, 1.0, 0.0};
  const double share = (3 + 6 * s * s - square(s * s)) / 8, slope = (3 * s - s * s * s) / 2;
  return {core.value * share, slope, core.slope * (share - s * slope)};
}

Eigen::Vector<double, 6> node_weights(const Mesh& mesh, std::size_t t) {
  Eigen::Vector<double, 6> w;
  for (int i = 0; i < 6; ++i) w[i] = potential_weight(mesh, mesh.nodes[mesh.triangles[t][i]]).value;
  return w;
}

TriangleSamples potential_samples(const Mesh& mesh, std::size_t t) {
  const TrianglePoints points = triangle_points(mesh, t);
  TriangleSamples samples = triangle_samples(points);
  if (mesh.cores.empty()) return samples;
  const Eigen::Vector<double, 6> at_node = node_weights(mesh, t);
  for (Sample<6>& s : samples)
    s = weighed<6>(s, potential_weight(mesh, place_of(s, points)), at_node);
  return samples;
}

Sample<6> potential_sample(const Mesh& mesh, std::size_t t, double x, double y) {
  const TrianglePoints points = triangle_points(mesh, t);
  const Sample<6> s = sample_at(points, x, y, 0.0);
  if (mesh.cores.empty()) return s;
  return weighed<6>(s, potential_weight(mesh, place_of(s, points)), node_weights(mesh, t));
}

}  // namespace cw
