#pragma once

#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"
#include "solver/field/eddy_system.hpp"

namespace cw {

/// A box 0 < r < 20 mm, 0 < z < 30 mm round a bar of 10 mm radius that extends from end to end; its
/// functions are plain polynomials of second order, so that potentials of second order are exact.
struct PlainBox {
  static constexpr double radius = 0.02, height = 0.03, bar_radius = 0.01;  // [m]
  static constexpr RegionId bar = 1;
  static constexpr BorderConditions natural{false, false, false};

  static Section section() {
    Section section;
    section.regions.push_back({"workpiece", rectangle({0, 0}, {bar_radius, height})});
    section.domain = Box{radius, 0, height};
    return section;
  }
  static Mesh mesh() {
    Mesh mesh = generate_mesh(section());
    mesh.cores.clear();
    return mesh;
  }
};

/// What the parabolas of 22 edges of second order leave out of a circle: (pi/22)^4/30 of its area
/// (series of polygon and segments of parabolas, h = pi/22).
inline const double out_of_circle = std::pow(std::numbers::pi / 22, 4) / 30;

/// The unknowns of a potential given at every place.
template <class Potential>
Eigen::VectorXd unknowns_of(const EddySystem& system, Potential potential) {
  const Mesh& mesh = system.mesh();
  Eigen::VectorXd x(system.unknowns());
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
    if (system.dofs().of_node[i] >= 0) x[system.dofs().of_node[i]] = potential(mesh.nodes[i]);
  return x;
}

}  // namespace cw
