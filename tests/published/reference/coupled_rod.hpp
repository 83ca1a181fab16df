#pragma once

#include <functional>
#include <vector>

namespace cw::reference {

/// An infinite round bar in an axial alternating field that is constant at its surface, without
/// heat loss: field and conduction by finite differences along the radius, together in time. Shares
/// no line with the product; properties are functions of temperature [K].
struct CoupledRod {
  double radius = 0.0;                          ///< [m]
  double hertz = 0.0, rms = 0.0;                ///< field at the surface [A/m] rms
  double start = 293.15;                        ///< [K]
  std::function<double(double)> resistivity;    ///< [ohm m]
  std::function<double(double)> conductivity;   ///< of heat [W/(m K)]
  std::function<double(double)> heat_capacity;  ///< per volume [J/(m^3 K)]
  std::function<double(double)> saturation;     ///< Js(T) [T]
  std::function<double(double)> half_field;     ///< a(T) [A/m]: J = Js H/(H + a), peak values
};

struct RodMoment {
  double time, surface, centre;  ///< [s], [K]
  double power;                  ///< per length of bar [W/m]
};

/// `cells` across the radius; the field is solved again every `update` seconds. Effective
/// permeability sqrt(2) rms{B(Hp sin t)}/Hp from the field at each point.
std::vector<RodMoment> heat_rod(const CoupledRod& rod, int cells, double update, double until);

}  // namespace cw::reference
