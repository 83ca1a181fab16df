#pragma once

namespace cw::reference {

/// A round bore with water in it.
struct WateredTube {
  double bore, length;  ///< [m]
  double flow;          ///< [m^3/s]
  double inlet_C;       ///< [degC]
  double heat;          ///< of the whole tube [W]
};

struct WaterEnds {
  double outlet_C, wall_mean_C, wall_hottest_C;  ///< [degC]
};

/// Marched along the bore in short pieces with water at its local temperature. Copper generates
/// more heat where it is warmer, 0.393 % a kelvin, with the given total. Wall by V. Gnielinski,
/// Int. Chem. Eng. 16 (1976) 359, with the friction he used, (1.82 lg Re - 1.64)^-2, from Re 3000
/// on, 48/11 below 2300, linear between; water by round textbook figures: 4180 J/(kg K), 998
/// kg/m^3, 0.6 W/(m K), viscosity 2.414e-5 Pa s 10^(247.8/(T - 140 K)). All from memory.
WaterEnds marched(const WateredTube& tube);

/// A bare copper conductor in still air.
struct DryTube {
  double metal_area, perimeter, across, length;  ///< [m^2], [m]
  double loss;                                   ///< at `loss_C` [W]
  double loss_C;                                 ///< [degC]
  double other_heat;                             ///< that does not change with temperature [W]
  double emissivity;
  double air_C, limit_C;  ///< [degC]
};

/// Seconds from the temperature of the air to the limit, in steps of a millisecond: copper of 8940
/// kg/m^3 and 385 + 0.098 (T - 20) J/(kg K). Its loss is proportional to the root of the
/// resistivity, as for a thin skin, 0.393 % a kelvin. Half its surface loses heat by radiation and
/// by 1.32 ((T - Ta)/D)^(1/4) W/(m^2 K), the textbooks' short form for a horizontal cylinder in air
/// (W. H. McAdams, Heat Transmission, 1954). All from memory. Below 0: not within a day.
double seconds_to_limit(const DryTube& tube);

}  // namespace cw::reference
