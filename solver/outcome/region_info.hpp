#pragma once

#include <functional>
#include <string>

#include "materials/quantity.hpp"
#include "mesh/planar/point.hpp"

namespace cw {

/// What a viewer may want to know of a region beside its field.
struct RegionInfo {
  std::string material;  ///< "air" for air
  Temperature temperature = Temperature::celsius(20.0);
  std::function<Temperature(Point)> local = {};  ///< where it varies inside; else empty
};

}  // namespace cw
