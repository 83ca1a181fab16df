#pragma once

#include <complex>

#include "materials/quantity.hpp"
#include "solver/circuit/round_conductor.hpp"
#include "solver/heater/heater.hpp"

namespace cw {

/// The loaded coil at its terminals, leads included, joints not.
struct CoilImpedance {
  double resistance_ohm = 0.0;
  double inductance_H = 0.0;
  double lead_resistance_ohm = 0.0;  ///< the share of resistance_ohm that is the leads'
};

/// Tank, drive and supply as the user has them.
struct TankCircuit {
  Tank tank;
  PushPullDrive drive;
};

/// Of a heater with a tank and a push-pull drive.
TankCircuit tank_circuit(const Heater& heater);

/// Admittances [S] side by side across the bank's terminals, where the drive taps.
struct TankAdmittance {
  std::complex<double> coil;    ///< coil with leads, joints in series
  std::complex<double> bank;    ///< capacitors
  std::complex<double> chokes;  ///< the pair of chokes as the tank sees them
  [[nodiscard]] std::complex<double> total() const { return coil + bank + chokes; }
};

/// Series impedance of the bank [ohm] with ESR = esr + tan delta/(w C).
std::complex<double> bank_impedance(const Tank& bank, Frequency f);

/// Joints and bank in series [ohm].
std::complex<double> series_impedance(const Tank& tank, Frequency f);

/// Admittance of the chokes between the drains [S], at the tank's own frequency.
///
/// Two chokes. One drain lies at earth while the other swings; with i1, i2 the choke currents,
/// L di1/dt = V - v1 and L di2/dt = V - v2. The tank takes i2 while drain 1 lies at earth and -i1
/// in the other half: +-(i1 + i2)/2, the square wave of the drive, and id = (i2 - i1)/2 always.
/// Since 2 L did/dt = -(v2 - v1), id is that of an inductance 2 L across the tank, 2 R in series.
/// One choke into the centre tap. It sees V - |v|/2: direct voltage and even harmonics only. The
/// halves of the coil, taken as fully coupled, turn its current i into +-i/2 across the tank, and
/// there is no id.
/// In both the square wave is not flat: its height j has L dj/dt = V - |v|/2 (two) or 2 L dj/dt =
/// V - |v|/2 (one). For v = pi V sin(wt) the fundamental of +-j has, beside its part in phase,
/// (2/pi)(pi^2/4 - 2) V/(w L) or half of that in quadrature, as if an inductance L/k or 2 L/k lay
/// across the tank, k = 1/2 - 4/pi^2 = 0.0947. (Derived; time stepping of the circuit confirms it.)
/// Together, without resistance: L/(1 - 4/pi^2) for two chokes, 2 L/k for one.
std::complex<double> choke_admittance(const Choke& choke, Frequency f);

/// The three branches at `f`.
TankAdmittance tank_admittance(const TankCircuit& circuit, const CoilImpedance& coil, Frequency f);

/// The same tank with one can gone open: n - 1 cans' capacitance, n/(n - 1) of ESR and inductance.
/// Needs at least two cans (asserted).
Tank one_can_open(const Tank& tank);

/// Throws std::invalid_argument where a part of the tank or a choke cannot be, with value, limit
/// and remedy.
void require_usable(const Tank& tank);
void require_usable(const Choke& choke);

}  // namespace cw
