#include <fmt/format.h>

#include <string>

#include "cases/assumed.hpp"
#include "cases/check/findings.hpp"
#include "cases/wording.hpp"
#include "materials/copper_tube.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

/// Assumed values are known only to two or three figures.
std::string about(double value, Dimension dimension) {
  return in_words(std::stod(fmt::format("{:.3g}", value)), dimension);
}

void tell_wall(Findings& findings, const Conductor& conductor) {
  const auto* round = std::get_if<RoundTube>(&conductor.section);
  if (round == nullptr) return;
  const auto tube = usual_copper_tube(round->diameter);
  if (!tube) return;
  findings.warn("coil.conductor.wall",
                fmt::format("assumed: a wall of {:.3g} mm, usual in copper tube of {} ({}); "
                            "measure yours and write wall",
                            1e3 * round->thickness, tube->size, tube->standard));
}

void tell_bank(Findings& findings, const Tank& tank) {
  const bool judged = tank.can_warming || (tank.can_limits && tank.can_limits->loss);
  findings.warn(
      "tank.dissipation_factor",
      fmt::format("assumed: {:g}, typical of polypropylene film near 10 to 100 kHz{}; write the "
                  "value of your data sheet, which may be half of this or three times as much",
                  tank.dissipation_factor.value_or(0.0),
                  judged ? "; the temperature of the cans depends on it" : ""));
}

void tell_choke(Findings& findings, const PushPullDrive& drive) {
  findings.warn(
      "drive.choke",
      fmt::format("assumed: two chokes of {} and {}, for a coil of about {}; their saturation is "
                  "not checked; write choke = {{ count = 2, inductance "
                  "= \"150 uH\", resistance = \"14 mohm\" }} with the values of your chokes",
                  about(drive.choke.inductance, Dimension::inductance),
                  about(drive.choke.resistance, Dimension::resistance),
                  about(rough_inductance(findings.subject.coil), Dimension::inductance)));
}

void tell_choke_resistance(Findings& findings, const PushPullDrive& drive) {
  findings.warn("drive.choke.resistance",
                fmt::format("assumed: {} each, typical of chokes of this inductance for 10 to 40 "
                            "A, half of it with thick wire; write what a meter reads",
                            about(drive.choke.resistance, Dimension::resistance)));
}

void tell_switch(Findings& findings, const PushPullDrive& drive, bool none) {
  const double resistance = drive.transistor.resistance;
  const std::string have =
      resistance > 0 ? fmt::format("switches of {} when hot, typical of large ones for {}",
                                   about(resistance, Dimension::resistance),
                                   about(usual_rating(drive), Dimension::voltage))
                     : std::string("switches without conduction loss");
  findings.warn(
      "drive.switch",
      fmt::format("assumed: {}{}; write resistance = \"10 mohm\" from the data sheet, when hot",
                  have, none ? ", without switching loss; their ratings are not checked" : ""));
}

void tell_sink(Findings& findings, const HeatSink& sink) {
  findings.warn(
      "drive.switch.heat_sink.size",
      fmt::format(
          "assumed: {:.3g} K/W to the air, typical of finned heat sinks of this size, with fins "
          "upright and free; {:.3g} K/W from junction to case and {:.3g} K/W through the pad; "
          "write sink_to_air, junction_to_case and case_to_sink where data sheets "
          "give them",
          sink.sink_to_air.value_or(0.0), sink.junction_to_case, sink.case_to_sink));
}

void tell_can(Findings& findings, const Warming& can) {
  findings.warn("tank.can_warming.size",
                fmt::format("assumed: {:.3g} K/W to still air and {}, typical of a boxed film can "
                            "of this size; limit {}; cans that touch each other cool worse; write "
                            "to_air, heat_capacity and limit where the data sheet gives them",
                            can.to_air, about(can.heat_capacity, Dimension::thermal_capacity),
                            in_words(can.limit.kelvin, Dimension::temperature)));
}

}  // namespace

void check_assumed(Findings& findings) {
  const Case& subject = findings.subject;
  const auto written = [&](const char* key) { return subject.where.at.contains(key); };
  // Nothing is left out in a case made by code, and a case with errors is not run.
  if (subject.where.at.empty() || !findings.errors.empty()) return;
  if (!written("coil.conductor.wall")) tell_wall(findings, subject.coil.conductor);
  const auto* pair = std::get_if<PushPullDrive>(&subject.drive);
  if (tank_use(subject.drive) != TankUse::none && subject.tank &&
      !written("tank.dissipation_factor") && !written("tank.esr"))
    tell_bank(findings, *subject.tank);
  if (written("tank.can_warming.size")) tell_can(findings, *subject.tank->can_warming);
  if (pair == nullptr) return;
  if (!written("drive.kind"))
    findings.warn("drive.kind", "assumed: push-pull, the only kind with a supply");
  if (!written("drive.choke"))
    tell_choke(findings, *pair);
  else if (!written("drive.choke.resistance"))
    tell_choke_resistance(findings, *pair);
  if (!written("drive.switch.resistance") && !written("drive.switch.drop"))
    tell_switch(findings, *pair, !written("drive.switch"));
  if (written("drive.switch.heat_sink.size")) tell_sink(findings, *pair->transistor.heat_sink);
}

}  // namespace cw::cases
