#pragma once

#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// What the field sees of a region: linear, isotropic, uniform.
struct Medium {
  double conductivity = 0.0;       ///< [S/m]
  double reluctivity = 1.0 / mu0;  ///< 1/mu [m/H]
};

/// One per RegionId; air first.
using Media = std::vector<Medium>;

}  // namespace cw
