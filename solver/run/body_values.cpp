#include "solver/run/body_values.hpp"

#include <algorithm>
#include <numbers>

#include "solver/fem/triangle.hpp"

namespace cw {

PowerDensity power_density(const Mesh& mesh, const FieldSolution& field, RegionId region) {
  PowerDensity density{1e300, 0, 0};
  double volume = 0, loss = 0;
  constexpr std::array<std::array<double, 2>, 6> node{
      {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}}};
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    const FieldInTriangle inside(mesh, field, t);
    for (const auto& [x, y] : node) {
      const double here = inside.at(x, y).power_density;
      density.lowest = std::min(density.lowest, here);
      density.highest = std::max(density.highest, here);
    }
    for (const auto& n : TriangleRule::nodes()) {
      const Sample<6> s = sample_at(triangle_points(mesh, t), n.x, n.y, n.weight);
      const double part = 2 * std::numbers::pi * s.radius * s.area;
      volume += part;
      loss += inside.at(n.x, n.y).power_density * part;
    }
  }
  if (volume == 0) return {};
  density.mean = loss / volume;
  return density;
}

}  // namespace cw
