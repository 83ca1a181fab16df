#pragma once

#include <cmath>
#include <functional>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "mesh/triangulation.hpp"
#include "solver/thermal/thermal_stepper.hpp"

namespace cw {

/// `count` equal steps from a to b; with `ratio` each is that many times the one before it.
inline std::vector<double> steps(double a, double b, int count, double ratio = 1.0) {
  std::vector<double> x{a};
  double width =
      ratio == 1.0 ? (b - a) / count : (b - a) * (1 - ratio) / (1 - std::pow(ratio, count));
  for (int i = 1; i < count; ++i, width *= ratio) x.push_back(x.back() + width);
  x.push_back(b);
  return x;
}

/// A grid of triangles; `region_at` gives the region of the cell about a point, 0 being air.
inline Mesh grid_mesh(const std::vector<double>& r, const std::vector<double>& z,
                      const std::function<RegionId(Point)>& region_at) {
  Triangulation flat;
  for (const double height : z)
    for (const double radius : r) flat.add_node({radius, height});
  const auto node = [&r](std::size_t i, std::size_t j) {
    return static_cast<int>(j * r.size() + i);
  };
  RegionId most = 0;
  for (std::size_t j = 0; j + 1 < z.size(); ++j)
    for (std::size_t i = 0; i + 1 < r.size(); ++i) {
      const RegionId id = region_at({.5 * (r[i] + r[i + 1]), .5 * (z[j] + z[j + 1])});
      flat.add_quad(node(i, j), node(i + 1, j), node(i + 1, j + 1), node(i, j + 1), id);
      most = std::max(most, id);
    }
  Mesh mesh = to_second_order(flat, {});
  mesh.region_name = {"air"};
  for (RegionId id = 1; id <= most; ++id) mesh.region_name.push_back("body." + std::to_string(id));
  return mesh;
}

/// One body, region 1.
inline Mesh rod_mesh(const std::vector<double>& r, const std::vector<double>& z) {
  return grid_mesh(r, z, [](Point) { return 1; });
}

/// A substance with constant properties.
inline Material plain_material(double conductivity, double density, double heat_capacity) {
  Material m;
  m.name = "plain";
  m.density.value = density;
  m.thermal_conductivity.shape = conductivity;
  m.heat_capacity.shape = heat_capacity;
  return m;
}

/// A law linear in temperature [K], `at_300` at 300 K.
inline Law linear_law(double at_300, double per_kelvin) {
  Law law;
  law.shape = Table{{200, 2000}, {at_300 - 100 * per_kelvin, at_300 + 1700 * per_kelvin}};
  law.lowest = 200;
  law.highest = 2000;
  return law;
}

/// Power density at the quadrature points of every triangle from a function of place.
inline std::vector<std::array<double, 12>> density_of(const Mesh& mesh,
                                                      const std::function<double(Point)>& at) {
  std::vector<std::array<double, 12>> rows;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const TrianglePoints points = triangle_points(mesh, t);
    auto& row = rows.emplace_back();
    for (std::size_t q = 0; q < 12; ++q) {
      const auto& node = TriangleRule::nodes()[q];
      const auto n = shape_values(node.x, node.y);
      Point p;
      for (int i = 0; i < 6; ++i) p = p + n[i] * points[i];
      row[q] = at(p);
    }
  }
  return rows;
}

/// Temperature at the unknown nearest to a point [K].
inline double kelvin_near(const ThermalModel& model, const Eigen::VectorXd& kelvin, Point p) {
  int best = 0;
  for (int i = 0; i < model.mesh().unknowns(); ++i)
    if (distance(model.mesh().at[i], p) < distance(model.mesh().at[best], p)) best = i;
  return kelvin[best];
}

inline double volume_of_cylinder(double radius, double length) {
  return std::numbers::pi * radius * radius * length;
}

}  // namespace cw
