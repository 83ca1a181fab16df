#pragma once

#include <complex>

#include "solver/circuit/drive_point.hpp"
#include "solver/heater/drive.hpp"

namespace cw {

/// Operating point of one feed choke.
struct ChokeLoad {
  double mean_A = 0.0;  ///< I/2 for two chokes, I for one
  double ripple_peak_to_peak_A = 0.0;
  double peak_A = 0.0;    ///< mean + ripple/2: the ripple is symmetric about the mean
  double energy_J = 0.0;  ///< L peak^2/2
};

/// Ripple [A] peak to peak over V_eff/(f L). Two chokes: V_L = V - v, with v zero for half a period
/// and pi V sin in the other, gives (pi + 2 a - 2 pi (1 - cos a))/(2 pi), sin a = 1/pi: 0.5511. One
/// choke: V_L = V - (pi/2) V |sin| gives (2 b - pi (1 - cos b))/(2 pi), sin b = 2/pi: 0.1053.
/// (Derived.)
double ripple_factor(int chokes);

ChokeLoad choke_load(const Choke& choke, const DrivePoint& point, Frequency f);

/// Admittance of the chokes between the drains [S], at the tank's own frequency.
///
/// Two chokes. One drain is at earth while the other swings; with i1, i2 the choke currents, L
/// di1/dt = V - v1 and L di2/dt = V - v2. The tank takes i2 while drain 1 is at earth, and -i1 in
/// the other half: +-(i1 + i2)/2, the square wave of the drive, plus id = (i2 - i1)/2 in both
/// halves. Since 2 L did/dt = -(v2 - v1), id is the current of an inductance 2 L across the tank
/// with 2 R in series.
/// One choke into the centre tap. It sees V - |v|/2: direct voltage and even harmonics only. The
/// halves of the coil, taken as fully coupled, turn its current i into +-i/2 across the tank, and
/// there is no id.
/// there is no id.
/// In both the square wave is not flat: its height j has L dj/dt = V - |v|/2 (two) or 2 L dj/dt = V
/// - |v|/2 (one). For v = pi V sin(wt) the fundamental of +-j has a component in quadrature,
/// (2/pi)(pi^2/4 - 2) V/(w L) or half of that. It acts like an inductance L/k or 2 L/k across the
/// tank, k = 1/2 - 4/pi^2 = 0.0947. (Derived; time stepping of the circuit confirms it.) In total,
/// without resistance: L/(1 - 4/pi^2) for two chokes, 2 L/k for one.
std::complex<double> choke_admittance(const Choke& choke, Frequency f);

/// Throws std::invalid_argument for an impossible choke, with value, limit and remedy.
void require_usable(const Choke& choke);

}  // namespace cw
