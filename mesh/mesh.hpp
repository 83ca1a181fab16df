#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "mesh/planar/point.hpp"

namespace cw {

/// Index into Mesh::region_name; 0 is always "air".
using RegionId = int;

/// Parts of the border of the meshed half-plane.
enum class Side { axis, open, outer, top, bottom };

/// A second-order edge on the border of the mesh; from `from` to `to` the mesh is on its left.
struct BorderEdge {
  int from, to, middle;  ///< node indices
  Side side;
};

/// A part of the axis and the radius of the cylinder beside it [m].
struct Core {
  double low, high, radius;
};

/// Second-order triangles of the half-plane. Built once, never changed.
struct Mesh {
  std::vector<Point> nodes;  ///< vertices first, then mid-edge nodes
  std::size_t vertices = 0;  ///< nodes[0, vertices) are triangle corners
  std::vector<std::array<int, 6>>
      triangles;                 ///< corners counter-clockwise, then the nodes of edges 01, 12, 20
  std::vector<RegionId> region;  ///< one per triangle
  std::vector<std::string> region_name;  ///< "air", "workpiece", "turn.1", ...
  std::vector<BorderEdge> border;
  Point centre;              ///< of the open circle, on the axis
  double open_radius = 0.0;  ///< of the open circle [m]; 0 when the mesh ends in a box
  std::vector<Core> cores;   ///< see PotentialWeight in solver/fem; may be empty

  /// Region by name; -1 when the mesh has none.
  [[nodiscard]] RegionId find_region(std::string_view name) const;
};

}  // namespace cw
