#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// Heat capacity and heat loss of a part.
struct Warming {
  double heat_capacity = 0.0;                      ///< of the whole part [J/K]
  double to_air = 0.0;                             ///< [K/W]
  Temperature limit = Temperature::celsius(85.0);  ///< maximum permitted temperature
};

}  // namespace cw
