#pragma once

#include <vector>

#include "mesh/mesh.hpp"
#include "postproc/picture/canvas.hpp"

namespace cw {

/// Closed lines round a region, the region to their left; each curved edge becomes `pieces`
/// straight ones. The outline of a region on the axis includes the axis.
std::vector<std::vector<Point>> outlines(const Mesh& mesh, RegionId region, int pieces = 4);

/// Lines at 45 degrees, `spacing` apart, over the inside of closed lines (even-odd rule).
std::vector<Line> hatching(const std::vector<Line>& closed, double spacing);

}  // namespace cw
