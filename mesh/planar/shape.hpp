#pragma once

#include <variant>
#include <vector>

#include "mesh/planar/point.hpp"

namespace cw {

/// A circle in the half-plane: the cross-section of a round conductor, or with `bore` of a round
/// tube. A centre on the axis makes it a sphere or spherical shell.
struct Disc {
  Point centre;
  double radius = 0.0;  ///< [m]
  double bore = 0.0;    ///< inner radius [m], 0 for solid
};

/// A region with straight sides: outline counter-clockwise, holes clockwise; no corner repeated at
/// the end. It may touch the axis and other polygons along (parts of) sides, never overlap them.
struct Polygon {
  std::vector<Point> outline;
  std::vector<std::vector<Point>> holes;
};

/// Rectangle r0 < r < r1, z0 < z < z1.
Polygon rectangle(Point low, Point high);

using Shape = std::variant<Disc, Polygon>;

/// The corners counter-clockwise, whichever way round they are given.
Polygon polygon_of(std::vector<Point> corners);

}  // namespace cw
