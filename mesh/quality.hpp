#pragma once

#include <string>
#include <vector>

#include "mesh/mesh.hpp"

namespace cw {

/// Quality of the triangles of one region.
struct RegionQuality {
  std::string region;
  std::size_t triangles = 0;
  double smallest_jacobian =
      1.0;  ///< smallest det J over its mean in the same triangle; <= 0 is folded
  double smallest_angle =
      180.0;                    ///< of the straight triangles [deg]; small in skin layers by design
  double largest_angle = 0.0;   ///< [deg]
  double largest_aspect = 1.0;  ///< longest edge over shortest height
  Point worst = {};             ///< centre of a triangle that has the first or the third of these
};

/// One row per region that has triangles, in region order.
std::vector<RegionQuality> quality_report(const Mesh& mesh);

/// Throws MeshError naming the region when a triangle is folded, flat (largest angle above 179 deg)
/// or has smallest_jacobian below 0.1.
void require_quality(const Mesh& mesh);

}  // namespace cw
