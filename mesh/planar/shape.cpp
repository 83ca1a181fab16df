#include "mesh/planar/shape.hpp"

#include <algorithm>

#include "mesh/planar/outline.hpp"

namespace cw {

Polygon rectangle(Point low, Point high) {
  return {{low, {high.r, low.z}, high, {low.r, high.z}}, {}};
}

Polygon polygon_of(std::vector<Point> corners) {
  if (area(corners) < 0) std::reverse(corners.begin(), corners.end());
  return {std::move(corners), {}};
}

}  // namespace cw
