#pragma once

#include <array>
#include <cstdint>
#include <unordered_map>
#include <utility>
#include <vector>

#include "mesh/mesh.hpp"

namespace cw {

/// The circle of a curved edge.
struct Circle {
  Point centre;
  double radius;
};

/// First-order triangles while a mesh is being built: nodes may only be appended.
struct Triangulation {
  std::vector<Point> nodes;
  std::vector<std::array<int, 3>> triangles;
  std::vector<RegionId> region;
  std::unordered_map<std::uint64_t, Circle>
      arcs;  ///< by edge_key: edges whose mid node lies on a circle

  int add_node(Point p);
  /// Adds the triangle counter-clockwise, whatever the order of its corners.
  void add_triangle(int a, int b, int c, RegionId id);
  /// Splits the quadrilateral a b c d (either sense) along its shorter diagonal, which is returned.
  std::pair<int, int> add_quad(int a, int b, int c, int d, RegionId id);
};

/// The same key for (a, b) and (b, a).
constexpr std::uint64_t edge_key(int a, int b) {
  const auto low = static_cast<std::uint64_t>(a < b ? a : b),
             high = static_cast<std::uint64_t>(a < b ? b : a);
  return high << 32U | low;
}

/// Adds mid-edge nodes, those of `arcs` on their circles. `border` has middle = -1 on entry and is
/// completed.
Mesh to_second_order(const Triangulation& flat, std::vector<BorderEdge> border);

}  // namespace cw
