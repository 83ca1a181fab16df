#include "tests/bench/fixed_mesh.hpp"

#include <gmsh.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>
#include <vector>

namespace cw::bench {

namespace {

namespace geo = gmsh::model::geo;
using Corners = std::array<int, 4>;  // points or lines of a four-sided patch, counter-clockwise

// Never change any of these figures: older ratios would lose their meaning.
constexpr double rod_radius = 0.012, rod_half = 0.040, layers_depth = 0.0024;          // [m]
constexpr double tube_radius = 0.003175, bore_radius = 0.002375, mean_radius = 0.025;  // [m]
constexpr double pitch = 0.009, box = 0.25;                                            // [m]
constexpr int rod_layers = 4, wall_layers = 3, along_rod = 30, across_rod = 6, quarter_turn = 4;
constexpr double layer_growth = 2.0, edge_growth = 1.25;

int point(double r, double z) {
  return geo::addPoint(r, z, 0);
}

/// A line of `edges` edges; growth > 1: each longer than the one before.
int line(int from, int to, int edges, double growth = 1.0) {
  const int tag = geo::addLine(from, to);
  geo::mesh::setTransfiniteCurve(tag, edges + 1, "Progression", growth);
  return tag;
}

int patch(const std::vector<int>& lines) {
  const int surface = geo::addPlaneSurface({geo::addCurveLoop(lines)});
  geo::mesh::setTransfiniteSurface(surface);
  return surface;
}

struct Rod {
  int low, high;             ///< its points on the axis
  std::vector<int> outline;  ///< lines from `low` round to `high`
};

/// The rod right of the axis: core, layers along its side and ends, corners.
Rod add_rod() {
  const double inner = rod_radius - layers_depth, half = rod_half - layers_depth;
  const int a0 = point(0, -rod_half), a1 = point(0, -half), a2 = point(0, half),
            a3 = point(0, rod_half);
  const int b0 = point(inner, -rod_half), b1 = point(inner, -half), b2 = point(inner, half),
            b3 = point(inner, rod_half);
  const int c0 = point(rod_radius, -rod_half), c1 = point(rod_radius, -half),
            c2 = point(rod_radius, half), c3 = point(rod_radius, rod_half);
  // Across the layers, from the surface inwards.
  const int a01 = line(a0, a1, rod_layers, layer_growth),
            a32 = line(a3, a2, rod_layers, layer_growth);
  const int b01 = line(b0, b1, rod_layers, layer_growth),
            b32 = line(b3, b2, rod_layers, layer_growth);
  const int c01 = line(c0, c1, rod_layers, layer_growth),
            c32 = line(c3, c2, rod_layers, layer_growth);
  const int cb0 = line(c0, b0, rod_layers, layer_growth),
            cb1 = line(c1, b1, rod_layers, layer_growth);
  const int cb2 = line(c2, b2, rod_layers, layer_growth),
            cb3 = line(c3, b3, rod_layers, layer_growth);
  // Along the surface.
  const int ab0 = line(b0, a0, across_rod, edge_growth),
            ab1 = line(b1, a1, across_rod, edge_growth);
  const int ab2 = line(b2, a2, across_rod, edge_growth),
            ab3 = line(b3, a3, across_rod, edge_growth);
  const int b12 = line(b1, b2, along_rod), c12 = line(c1, c2, along_rod), a12 = line(a1, a2, 8);
  patch({-ab0, b01, ab1, -a01});
  patch({-cb0, c01, cb1, -b01});
  patch({-cb1, c12, cb2, -b12});
  patch({-ab2, -b32, ab3, a32});
  patch({-cb2, -c32, cb3, b32});
  geo::addPlaneSurface({geo::addCurveLoop({-ab1, b12, ab2, -a12})});
  return {a0, a3, {-ab0, -cb0, c01, c12, -c32, cb3, ab3}};
}

/// One tube: four walls of layers and the bore. Returns the loop of its outside.
int add_tube(double z) {
  const int centre = point(mean_radius, z);
  const auto ring = [&](double radius) {
    return Corners{point(mean_radius + radius, z), point(mean_radius, z + radius),
                   point(mean_radius - radius, z), point(mean_radius, z - radius)};
  };
  const Corners outer = ring(tube_radius), inner = ring(bore_radius);
  std::vector<int> outside, inside, across;
  for (std::size_t k = 0; k < 4; ++k) {
    outside.push_back(geo::addCircleArc(outer[k], centre, outer[(k + 1) % 4]));
    inside.push_back(geo::addCircleArc(inner[k], centre, inner[(k + 1) % 4]));
    across.push_back(line(outer[k], inner[k], wall_layers, layer_growth));
    geo::mesh::setTransfiniteCurve(outside.back(), quarter_turn + 1);
    geo::mesh::setTransfiniteCurve(inside.back(), quarter_turn + 1);
  }
  for (std::size_t k = 0; k < 4; ++k)
    patch({outside[k], across[(k + 1) % 4], -inside[k], -across[k]});
  geo::addPlaneSurface({geo::addCurveLoop(inside)});
  return geo::addCurveLoop(outside);
}

void add_section() {
  const Rod rod = add_rod();
  const int low = point(0, -box), high = point(0, box);
  const int corner_low = point(box, -box), corner_high = point(box, box);
  const int below = line(rod.low, low, 12, 1.35), above = line(rod.high, high, 12, 1.35);
  std::vector<int> loop{below, line(low, corner_low, 4), line(corner_low, corner_high, 8),
                        line(corner_high, high, 4), -above};
  std::transform(rod.outline.rbegin(), rod.outline.rend(), std::back_inserter(loop),
                 std::negate<>());
  std::vector<int> loops{geo::addCurveLoop(loop)};
  for (int k = -3; k <= 3; ++k) loops.push_back(add_tube(k * pitch));
  geo::addPlaneSurface(loops);
  geo::synchronize();
}

FixedMesh read_back() {
  FixedMesh mesh;
  std::vector<std::size_t> tags, elements, corners;
  std::vector<double> xyz, parameters;
  gmsh::model::mesh::getNodes(tags, xyz, parameters);
  mesh.nodes = tags.size();
  for (std::size_t k = 0; k < tags.size(); ++k) {
    const double r = xyz[3 * k], z = xyz[3 * k + 1];
    constexpr double close = 1e-9;
    if (r > close && r < box - close && std::abs(z) < box - close) ++mesh.unknowns;
  }
  constexpr int second_order_triangle = 9;
  gmsh::model::mesh::getElementsByType(second_order_triangle, elements, corners);
  mesh.triangles = elements.size();
  return mesh;
}

}  // namespace

FixedMesh make_fixed_mesh() {
  static const bool started = [] {
    gmsh::initialize();
    return true;
  }();
  (void)started;
  // The same values as in the mesher of the product, so that the order of both does not matter.
  for (const auto& [name, value] : {std::pair{"General.Terminal", 0.0},
                                    {"General.Verbosity", 0.0},
                                    {"Mesh.Algorithm", 5.0},
                                    {"Mesh.MeshSizeFromPoints", 0.0},
                                    {"Mesh.MeshSizeExtendFromBoundary", 1.0},
                                    {"Mesh.RandomFactor", 1e-9},
                                    {"Geometry.AutoCoherence", 0.0}})
    gmsh::option::setNumber(name, value);
  gmsh::model::add("yardstick");
  add_section();
  gmsh::model::mesh::generate(2);
  gmsh::model::mesh::setOrder(2);
  const FixedMesh mesh = read_back();
  gmsh::model::remove();
  return mesh;
}

}  // namespace cw::bench
