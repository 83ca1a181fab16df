#pragma once

#include <complex>

#include "materials/quantity.hpp"
#include "solver/circuit/ringing_drive.hpp"
#include "solver/circuit/round_conductor.hpp"
#include "solver/heater/heater.hpp"

namespace cw {

/// The loaded coil at its terminals, leads included, joints not.
struct CoilImpedance {
  double resistance_ohm = 0.0;
  double inductance_H = 0.0;
  double lead_resistance_ohm = 0.0;  ///< the share of resistance_ohm that is the leads'
};

/// Tank, drive and supply as the heater describes them.
struct TankCircuit {
  Tank tank;
  RingingDrive drive;
};

/// Of a heater with a tank that rings (asserted).
TankCircuit tank_circuit(const Heater& heater);

/// Parallel admittances [S] across the bank's terminals, to which the drive is connected.
struct TankAdmittance {
  std::complex<double> coil;   ///< coil with leads, joints in series
  std::complex<double> bank;   ///< capacitors
  std::complex<double> drive;  ///< the drive's own parts as the tank sees them: chokes
  [[nodiscard]] std::complex<double> total() const { return coil + bank + drive; }
};

/// Series impedance of the bank [ohm] with ESR = esr + tan delta/(w C).
std::complex<double> bank_impedance(const Tank& bank, Frequency f);

/// Joints and bank in series [ohm].
std::complex<double> series_impedance(const Tank& tank, Frequency f);

/// The three branches at `f`.
TankAdmittance tank_admittance(const TankCircuit& circuit, const CoilImpedance& coil, Frequency f);

/// The same tank with one can failed open, and with it its string: n - 1 strings' capacitance,
/// n/(n - 1) of ESR and inductance. Needs at least two strings (asserted).
Tank one_can_open(const Tank& tank);

/// Throws std::invalid_argument for an impossible part of the tank, with value, limit and remedy.
void require_usable(const Tank& tank);

}  // namespace cw
