#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// The bore through which water runs: a coiled part and straight ends of the same section.
struct WaterChannel {
  double area = 0.0;              ///< of the bore [m^2]
  double wetted_perimeter = 0.0;  ///< [m]
  double coiled_length = 0.0;     ///< along the tube [m]
  double straight_length = 0.0;   ///< leads [m]
  double coil_diameter = 0.0;     ///< of the coil's centreline [m]
  /// 1.5 um: drawn tubing, L. F. Moody, Trans. ASME 66 (1944) 671 (from memory).
  double roughness = 1.5e-6;  ///< of the wall [m]

  /// 4 area / wetted perimeter [m].
  [[nodiscard]] double hydraulic_diameter() const;
};

/// Darcy friction factor of a long straight pipe, Darcy-Weisbach: dp = f (l/d) rho v^2/2.
/// 64/Re up to Re = 2300; from 4000 S. E. Haaland, J. Fluids Eng. 105 (1983) 89 (from memory),
/// within 2 % of the Colebrook equation; a straight line between the two.
double straight_friction(double reynolds, double relative_roughness);

/// Above this Reynolds number flow in a coil is turbulent: 20000 (d/D)^0.32. H. Ito, J. Basic Eng.
/// 81 (1959) 123 (from memory), for 1/860 < d/D < 1/15; never below the 2300 of a straight pipe.
double coil_critical_reynolds(double bore_over_coil);

/// Darcy friction factor in a coil of d/D = bore/coil diameter.
/// Laminar: 64/Re over 1 - [1 - (11.6/De)^0.45]^(1/0.45) for De = Re sqrt(d/D) > 11.6: C. M. White,
/// Proc. R. Soc. A 123 (1929) 645, proved to De = 2000. Turbulent: straight_friction + 0.029
/// sqrt(d/D), Ito 1959 (with Blasius' law in its place: 0.304 Re^-0.25 + 0.029 sqrt(d/D)). All from
/// memory.
double coil_friction(double reynolds, double relative_roughness, double bore_over_coil);

/// Nusselt number of the wall, heated along its length, in a straight pipe: 4.36 up to Re = 2300;
/// from 3000 V. Gnielinski, Int. Chem. Eng. 16 (1976) 359 (from memory); linear between them.
/// `friction` is that of turbulent flow. A coil transfers more heat, so the computed wall is too
/// warm rather than too cold.
double water_nusselt(double reynolds, double prandtl, double friction);

/// One steady flow through a channel.
struct WaterFlow {
  double velocity = 0.0;  ///< mean [m/s]
  double reynolds = 0.0;
  double friction = 0.0;       ///< Darcy, in the coil
  double pressure_drop = 0.0;  ///< [Pa]; connections and hoses not included
  double film = 0.0;           ///< heat transfer coefficient at the wall [W/(m^2 K)]
  bool turbulent = false;      ///< in the coil
};

/// `flow` [m^3/s], with the properties of water at `mean`.
WaterFlow water_flow(const WaterChannel& channel, double flow, Temperature mean);

/// Water that absorbs `heat` on its way.
struct CooledTube {
  WaterFlow flow;
  Temperature inlet, outlet;
  Temperature wall_mean;     ///< mean water + film
  Temperature wall_hottest;  ///< outlet + film
};

/// `heat` [W] spread evenly over the channel. Properties at the mean of inlet and outlet; boiling
/// is not modelled if the outlet is above 100 degC.
CooledTube cool_tube(const WaterChannel& channel, double flow, Temperature inlet, double heat);

/// Flow [m^3/s] for a temperature rise [K] of the water.
double flow_for_rise(double heat, double rise, Temperature inlet);

}  // namespace cw
