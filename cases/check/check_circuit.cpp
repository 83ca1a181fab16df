#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "cases/check/findings.hpp"
#include "cases/wording.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

std::string volts(double value) {
  return in_words(value, Dimension::voltage);
}
std::string amperes(double value) {
  return in_words(value, Dimension::current);
}

void check_bank(Findings& findings, const Tank& tank) {
  if (tank.esr > 0 && tank.dissipation_factor && *tank.dissipation_factor > 0)
    findings.warn("tank.esr",
                  "found both esr and dissipation_factor, and their losses add up; if the data "
                  "sheet gives one figure in two forms, remove one");
}

void check_switch(Findings& findings, const PushPullDrive& drive) {
  if (drive.transistor.drop >= drive.supply)
    findings.error("drive.switch.drop",
                   fmt::format("found {} at a supply of {}; allowed: less than the supply; is the "
                               "unit right? write for example \"0.8 V\"",
                               volts(drive.transistor.drop), volts(drive.supply)));
  const double peak = std::numbers::pi * drive.supply;
  if (drive.transistor.voltage_limit && *drive.transistor.voltage_limit < drive.supply)
    findings.error(
        "drive.switch.voltage_limit",
        fmt::format("found {} at a supply of {}; a switch stands pi times the supply: "
                    "write a rating above {}",
                    volts(*drive.transistor.voltage_limit), volts(drive.supply), volts(peak)));
}

/// Gate time compared with the half period of the empty tank.
void check_gate(Findings& findings, const Switch& transistor) {
  if (!transistor.gate_time) return;
  const double half_period = std::numbers::pi * std::sqrt(rough_inductance(findings.subject.coil) *
                                                          findings.subject.tank->capacitance);
  if (*transistor.gate_time < half_period) return;
  findings.error(
      "drive.switch.gate_time",
      fmt::format("found {}, and half a period of the empty tank lasts near {}; allowed: less than "
                  "that; is the unit right? write for example \"100 ns\"",
                  in_words(*transistor.gate_time, Dimension::time),
                  in_words(half_period, Dimension::time)));
}

void check_choke(Findings& findings, const Choke& choke) {
  const double coil = rough_inductance(findings.subject.coil);
  // Below ten times the coil, the harmonic model of the drive is outside its range:
  // harmonic_error() in solver/circuit.
  if (choke.inductance >= 10 * coil) return;
  findings.warn("drive.choke.inductance",
                fmt::format("found {} beside a coil of about {}; below ten times the coil the "
                            "current in the chokes swings too much for the model of the drive",
                            in_words(choke.inductance, Dimension::inductance),
                            in_words(coil, Dimension::inductance)));
}

void check_source(Findings& findings, const DcSupply& drive) {
  const double battery = drive.battery_resistance.value_or(0.0);
  if (drive.supply_limit && battery > 0 && drive.supply / battery < *drive.supply_limit)
    findings.error(
        "drive.battery_resistance",
        fmt::format("found {}, with which {} give {} into a dead short; allowed: enough "
                    "for the limit of {}; is the unit right? write for example \"12 mohm\"",
                    in_words(battery, Dimension::resistance), volts(drive.supply),
                    amperes(drive.supply / battery), amperes(*drive.supply_limit)));
  if (drive.fuse && drive.supply_limit && drive.limit_kind != LimitKind::trip &&
      *drive.fuse < *drive.supply_limit)
    findings.warn("drive.fuse", fmt::format("found {} below the supply's limit of {}: the fuse "
                                            "opens before the limit acts",
                                            amperes(*drive.fuse), amperes(*drive.supply_limit)));
}

}  // namespace

void check_circuit(Findings& findings) {
  // A value out of range is already reported; a comparison with it would only repeat that.
  for (const Complaint& error : findings.errors)
    if (error.key.starts_with("drive.") || error.key.starts_with("tank.")) return;
  const Case& subject = findings.subject;
  const TankUse use = tank_use(subject.drive);
  if (use == TankUse::none && subject.tank)
    findings.warn("tank",
                  "found a tank beside a drive of fixed frequency: it is not used; write kind = "
                  "\"push-pull\", or remove it");
  if (use != TankUse::rings || !subject.tank) return;
  check_bank(findings, *subject.tank);
  const DriveParts parts = drive_parts(subject.drive);
  if (const auto* pair = std::get_if<PushPullDrive>(&subject.drive)) check_switch(findings, *pair);
  if (parts.transistor != nullptr) check_gate(findings, *parts.transistor);
  if (parts.choke != nullptr) check_choke(findings, *parts.choke);
  check_source(findings, *parts.supply);
}

}  // namespace cw::cases
