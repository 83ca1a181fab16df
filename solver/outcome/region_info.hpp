#pragma once

#include <functional>
#include <string>

#include "materials/quantity.hpp"
#include "mesh/planar/point.hpp"

namespace cw {

/// Data of a region for viewers, beside its field.
struct RegionInfo {
  std::string material;  ///< "air" for air
  Temperature temperature = Temperature::celsius(20.0);
  std::function<Temperature(Point)> local = {};  ///< if it varies inside the region; else empty
};

}  // namespace cw
