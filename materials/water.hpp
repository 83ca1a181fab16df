#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// Liquid water at 1 atm.
struct WaterProperties {
  double density = 0.0;        ///< [kg/m^3]
  double viscosity = 0.0;      ///< dynamic [Pa s]
  double heat_capacity = 0.0;  ///< [J/(kg K)]
  double conductivity = 0.0;   ///< thermal [W/(m K)]
  [[nodiscard]] double prandtl() const { return heat_capacity * viscosity / conductivity; }
};

/// Linear interpolation in a table from 0 to 100 degC, for viscosity of the logarithms; constant
/// outside. Viscosity within 0.5 % of IAPWS R12-08.
WaterProperties water_at(Temperature t);

/// Boiling point of water at 1 atm.
inline constexpr Temperature water_boils = Temperature::celsius(100.0);

}  // namespace cw
