#include "solver/fem/potential.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

namespace {

/// The weight beside one core, for a point of a triangle whose middle has the radius `middle`: for
/// a point on the kink itself, this tells which side is meant.
PotentialWeight beside(const Core& core, Point p, double middle) {
  const double a = core.radius;
  const double beyond = p.z > core.high ? p.z - core.high : p.z < core.low ? p.z - core.low : 0.0;
  const double off = p.r - a;
  if (beyond == 0.0) {
    const bool on_bend = std::abs(off) < 1e-9 * a;
    const bool outside = on_bend ? middle > a : off > 0;
    return outside ? PotentialWeight{p.r, 1.0, 0.0} : PotentialWeight{a, 0.0, 0.0};
  }
  const double root = std::sqrt(off * off + beyond * beyond);
  return {0.5 * (p.r + a + root), 0.5 * (1 + off / root), 0.5 * beyond / root};
}

PotentialWeight weight_at(const Mesh& mesh, Point p, double middle) {
  PotentialWeight least;
  bool first = true;
  for (const Core& core : mesh.cores) {
    const PotentialWeight one = beside(core, p, middle);
    if (first || one.value < least.value) least = one;
    first = false;
  }
  return least;
}

double middle_radius(const TrianglePoints& points) {
  return (points[0].r + points[1].r + points[2].r) / 3;
}

}  // namespace

PotentialWeight potential_weight(const Mesh& mesh, Point p) {
  return weight_at(mesh, p, p.r);
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
    s = weighed<6>(s, weight_at(mesh, place_of(s, points), middle_radius(points)), at_node);
  return samples;
}

PotentialInTriangle::PotentialInTriangle(const Mesh& mesh, std::size_t t)
    : mesh_(mesh), map_(triangle_points(mesh, t)) {
  if (!mesh.cores.empty()) at_node_ = node_weights(mesh, t);
}

Sample<6> PotentialInTriangle::at(double x, double y) const {
  const Sample<6> s = map_.at(x, y, 0.0);
  if (mesh_.cores.empty()) return s;
  return weighed<6>(s, weight_at(mesh_, place_of(s, points()), middle_radius(points())), at_node_);
}

Sample<6> potential_sample(const Mesh& mesh, std::size_t t, double x, double y) {
  return PotentialInTriangle(mesh, t).at(x, y);
}

}  // namespace cw
