#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// How a part takes up heat and loses it.
struct Warming {
  double heat_capacity = 0.0;                      ///< of the whole part [J/K]
  double to_air = 0.0;                             ///< [K/W]
  Temperature limit = Temperature::celsius(85.0);  ///< the hottest it may get
};

}  // namespace cw
