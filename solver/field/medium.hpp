#pragma once

#include <array>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// Properties of a region for the field: linear, isotropic, uniform.
struct Medium {
  double conductivity = 0.0;       ///< [S/m]
  double reluctivity = 1.0 / mu0;  ///< 1/mu [m/H]
};

/// One per RegionId; air first.
using Media = std::vector<Medium>;

/// Media that vary inside bodies: for each triangle at the nodes of TriangleRule.
struct LocalMedia {
  std::vector<int> of_triangle;  ///< index into `at`; -1 where the region's medium applies
  std::vector<std::array<Medium, 12>> at;
};

}  // namespace cw
