#include "solver/circuit/tank_point.hpp"

#include <cmath>
#include <numbers>

namespace cw {
namespace {

/// Power at the tank by branch, for 1 V^2 of rms tank voltage [S]. |Y|^2 R, which is Re Y.
void share_tank_power(const Tank& tank, const TankAdmittance& y, TankPoint& p) {
  const double squared = p.coil_current_rms_A * p.coil_current_rms_A;
  const double voltage_squared = p.voltage_rms_V * p.voltage_rms_V;
  p.power.leads_W = squared * p.coil.lead_resistance_ohm;
  p.power.coil_W = squared * (p.coil.resistance_ohm - p.coil.lead_resistance_ohm);
  p.power.joints_W = squared * tank.joints.resistance;
  p.power.capacitors_W = voltage_squared * y.bank.real();
  p.power.chokes_W = voltage_squared * y.drive.real();
}

void share_drive_power(const TankCircuit& circuit, const DrivePoint& drive, TankPoint& p) {
  const DriveLosses lost =
      ask(circuit.drive, [&](const auto& d) { return drive_losses(d, drive.supply_current_A); });
  p.power.switches_W = lost.switches_W;
  p.power.chokes_W += lost.chokes_W;
  p.power.cable_W = lost.cable_W;
  p.power.battery_W = lost.battery_W;
  p.power.total_W = drive.source_V * drive.supply_current_A;
}

CanLoad can_load(const Tank& bank, const TankPoint& p) {
  if (!bank.cans) return {};
  const int cans = *bank.cans;
  return {.current_rms_A = p.capacitor_current_rms_A / bank.strings(),
          .voltage_rms_V = p.voltage_rms_V / bank.cans_in_series,
          .loss_W = p.power.capacitors_W / cans,
          .reactive_power_var = p.reactive_power_var / cans};
}

}  // namespace

double PowerShares::imbalance() const {
  const double sum =
      coil_W + leads_W + joints_W + capacitors_W + switches_W + chokes_W + cable_W + battery_W;
  return total_W == 0.0 ? sum : sum / total_W - 1.0;
}

DrivePoint drive_point(const TankCircuit& circuit, const SupplyCondition& held,
                       double conductance) {
  return ask(circuit.drive, [&](const auto& drive) {
    return held.fixed_current ? drive_at_current(drive, conductance, held.current_A)
                              : drive_at_voltage(drive, conductance);
  });
}

TankPoint tank_point(const TankCircuit& circuit, const CoilImpedance& coil, Frequency f,
                     const SupplyCondition& held) {
  const TankAdmittance y = tank_admittance(circuit, coil, f);
  const double conductance = y.total().real();
  const DrivePoint drive = drive_point(circuit, held, conductance);
  const double current = drive.supply_current_A;
  TankPoint p{.frequency = f, .coil = coil};
  p.voltage_peak_V = drive.tank_peak_V;
  p.voltage_rms_V = p.voltage_peak_V / std::numbers::sqrt2;
  p.coil_current_rms_A = p.voltage_rms_V * std::abs(y.coil);
  p.capacitor_current_rms_A = p.voltage_rms_V * std::abs(y.bank);
  p.reactive_power_var = p.voltage_rms_V * p.voltage_rms_V * f.omega() * circuit.tank.capacitance;
  p.loaded_q = std::abs(y.coil) / conductance;
  p.supply_current_A = current;
  const DcSupply& supply = *supply_of(circuit.drive);
  p.supply_voltage_V = drive.source_V - current * battery_resistance(supply);
  p.drive_voltage_V = p.supply_voltage_V - current * cable_resistance(supply.cable);
  share_tank_power(circuit.tank, y, p);
  share_drive_power(circuit, drive, p);
  ask(circuit.drive, [&](const auto& d) {
    p.switch_peak_V = switch_peak(d, drive);
    p.choke = choke_load(d, drive, f);
  });
  p.can = can_load(circuit.tank, p);
  p.half_period_s = 0.5 / f.hertz;
  // The third harmonic of a square wave is a third of its fundamental, and the fundamental meets
  // only the conductance.
  const Frequency third{3.0 * f.hertz};
  p.third_harmonic = conductance / 3.0 / std::abs(tank_admittance(circuit, coil, third).total());
  return p;
}

}  // namespace cw
