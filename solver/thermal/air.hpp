#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// Air at 1 atm.
struct AirProperties {
  double conductivity = 0.0;  ///< [W/(m K)]
  double viscosity = 0.0;     ///< kinematic [m^2/s]
  double prandtl = 0.0;
  double expansion = 0.0;  ///< 1/T of an ideal gas [1/K]
};

/// Inside the table (0 to 1000 degC) linear interpolation of the logarithms over ln T, beyond it
/// the power laws of the last two points.
AirProperties air_at(Temperature film);

}  // namespace cw
