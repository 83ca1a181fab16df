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

/// Between the points of a table from 0 to 100 degC by straight lines, viscosity by straight lines
/// of the logarithms; held at the ends outside. Viscosity within 0.5 % of IAPWS R12-08.
WaterProperties water_at(Temperature t);

/// Where water boils at 1 atm.
inline constexpr Temperature water_boils = Temperature::celsius(100.0);

}  // namespace cw
