#pragma once

#include "solver/circuit/tank.hpp"

namespace cw {

/// Where the power goes [W]. How the coil's I^2 R is shared among copper, workpiece and other
/// bodies follows only from the field.
struct PowerShares {
  double coil_W = 0.0;   ///< I^2 (R_coil - R_leads): winding and all it heats
  double leads_W = 0.0;  ///< I^2 R_leads
  double joints_W = 0.0;
  double capacitors_W = 0.0;
  double switches_W = 0.0;
  double chokes_W = 0.0;  ///< direct current, and the chokes' current at the tank's frequency
  double cable_W = 0.0;
  double battery_W = 0.0;  ///< in its internal resistance
  double total_W = 0.0;    ///< source voltage times supply current
  /// (Sum of the shares - total) / total: only rounding.
  [[nodiscard]] double imbalance() const;
};

/// One can of the bank, rms.
struct CanLoad {
  double current_rms_A = 0.0;
  double voltage_rms_V = 0.0;
  double loss_W = 0.0;
  double reactive_power_var = 0.0;
};

/// All figures of one steady state; all zero if the supply has stopped. Harmonic model: sine at the
/// tank; harmonic_error() bounds what it leaves out.
struct TankPoint {
  Frequency frequency;
  CoilImpedance coil;                                ///< as used here
  double voltage_rms_V = 0.0, voltage_peak_V = 0.0;  ///< across the bank, drain to drain
  double coil_current_rms_A = 0.0;
  double capacitor_current_rms_A = 0.0;
  double reactive_power_var = 0.0;  ///< V^2 w C
  double loaded_q = 0.0;       ///< V_rms I_coil/P of everything that the tank feeds, bank included
  double switch_peak_V = 0.0;  ///< a switch while off: peak of the tank plus the drop of the other
                               ///< switch
  double supply_voltage_V = 0.0;  ///< at the supply's terminals
  double drive_voltage_V = 0.0;   ///< behind the cable
  double supply_current_A = 0.0;
  PowerShares power = {};
  ChokeLoad choke = {};
  CanLoad can = {};  ///< zero where the number of cans is not known
  double half_period_s = 0.0;
  double third_harmonic = 0.0;  ///< estimate: amplitude of 3 f over that of f in the tank voltage
};

/// Whether the supply holds its voltage or its current.
struct SupplyCondition {
  bool fixed_current = false;  ///< at `current_A`; otherwise at the supply's set voltage
  double current_A = 0.0;
};

/// Supply side for a given coil at a given frequency.
DrivePoint drive_point(const TankCircuit& circuit, const SupplyCondition& held, double conductance);

/// The whole point from coil, frequency and the state of the supply.
TankPoint tank_point(const TankCircuit& circuit, const CoilImpedance& coil, Frequency f,
                     const SupplyCondition& held);

}  // namespace cw
