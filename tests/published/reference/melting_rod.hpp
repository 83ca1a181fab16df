#pragma once

#include <vector>

namespace cw::reference {

/// An infinite round charge in a round cup that is heated uniformly and loses no heat: conduction
/// along the radius with the charge melting between two temperatures, by finite volumes on
/// enthalpy, explicit in time. Shares no line with the product; constant properties.
struct MeltingRod {
  double charge_radius = 0.0, cup_radius = 0.0;  ///< [m]
  double contact = 0.0;                          ///< conductance between the two [W/(m^2 K)]
  double power = 0.0;                            ///< in the cup, per volume of it [W/m^3]
  double start = 293.15;                         ///< [K]
  struct Substance {
    double conductivity, capacity;  ///< [W/(m K)], per volume [J/(m^3 K)]
  } charge, cup;
  double solidus = 0.0, liquidus = 0.0, latent = 0.0;  ///< [K], [K], per volume [J/m^3]
};

struct MeltingMoment {
  double time = 0.0;     ///< [s]
  double front = 0.0;    ///< radius inside which the charge is below its solidus [m]
  double surface = 0.0;  ///< of the charge [K]
  double centre = 0.0;   ///< [K]
};

/// `cells` across charge and cup each; moments every `between` seconds.
std::vector<MeltingMoment> melt_rod(const MeltingRod& rod, int cells, double between, double until);

}  // namespace cw::reference
