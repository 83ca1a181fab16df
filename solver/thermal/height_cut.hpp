#pragma once

#include <optional>
#include <vector>

#include "solver/thermal/thermal_mesh.hpp"

namespace cw {

/// A point on an edge of a body's triangles. A value there is the weighted sum of the values at the
/// three nodes of the edge.
struct EdgePlace {
  std::array<int, 3> unknown;
  std::array<double, 3> value;  ///< shape functions, sum 1
  double radius;                ///< [m]

  /// From the values of all unknowns.
  [[nodiscard]] double read(const Eigen::VectorXd& all) const {
    return value[0] * all[unknown[0]] + value[1] * all[unknown[1]] + value[2] * all[unknown[2]];
  }
};

/// The points at which the height `z` [m] cuts the edges of a body's triangles; none for edges
/// along it.
std::vector<EdgePlace> places_at_height(const ThermalMesh& mesh, RegionId region, double z);

/// A point inside a triangle. A value there is the weighted sum of the values at its six nodes.
struct InnerPlace {
  std::array<int, 6> unknown;
  std::array<double, 6> value;  ///< shape functions, sum 1

  /// From the values of all unknowns.
  [[nodiscard]] double read(const Eigen::VectorXd& all) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < 6; ++i) sum += value[i] * all[unknown[i]];
    return sum;
  }
};

/// The point of a body at (r, z) [m]; none outside its triangles.
std::optional<InnerPlace> place_inside(const ThermalMesh& mesh, RegionId region, Point at);

/// Volume of revolution [m^3] between two heights that belongs to each node of an element:
/// integrals of its shape functions, with straight edges if a height cuts the element.
std::array<double, 7> volume_between(const ThermalMesh& mesh, const ThermalMesh::Element& element,
                                     double low, double high);

}  // namespace cw
