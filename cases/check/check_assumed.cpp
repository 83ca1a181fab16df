#include <fmt/format.h>

#include "cases/check/findings.hpp"
#include "cases/wording.hpp"
#include "materials/copper_tube.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

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
  findings.warn("tank.dissipation_factor",
                fmt::format("assumed: {:g}, as polypropylene film has near 10 to 100 kHz{}; write "
                            "what the data sheet of yours says, half of it or three times as much",
                            tank.dissipation_factor.value_or(0.0),
                            judged ? ", and the heat in the cans is judged by it" : ""));
}

void tell_choke(Findings& findings, const PushPullDrive& drive) {
  findings.warn(
      "drive.choke",
      fmt::format("assumed: two chokes of {} without resistance, to a coil of about {}; at which "
                  "current they may saturate is not judged; write choke = {{ count = 2, inductance "
                  "= \"150 uH\" }} with what is wound",
                  in_words(drive.choke.inductance, Dimension::inductance),
                  in_words(rough_inductance(findings.subject.coil), Dimension::inductance)));
}

void tell_switch(Findings& findings, bool none) {
  findings.warn(
      "drive.switch",
      fmt::format("assumed: switches that lose nothing while they conduct{}; write "
                  "resistance = \"10 mohm\" from the data sheet",
                  none ? " nor as they switch over, and what they stand is not judged" : ""));
}

}  // namespace

void check_assumed(Findings& findings) {
  const Case& subject = findings.subject;
  const auto written = [&](const char* key) { return subject.where.at.contains(key); };
  // A case made in code says all it means; one in error is not run yet.
  if (subject.where.at.empty() || !findings.errors.empty()) return;
  if (!written("coil.conductor.wall")) tell_wall(findings, subject.coil.conductor);
  const auto* pair = std::get_if<PushPullDrive>(&subject.drive);
  const bool rings = pair != nullptr || std::holds_alternative<SeriesTankDrive>(subject.drive);
  if (rings && subject.tank && !written("tank.dissipation_factor") && !written("tank.esr"))
    tell_bank(findings, *subject.tank);
  if (pair == nullptr) return;
  if (!written("drive.kind"))
    findings.warn("drive.kind", "assumed: push-pull, the only kind with a supply");
  if (!written("drive.choke")) tell_choke(findings, *pair);
  if (!written("drive.switch.resistance") && !written("drive.switch.drop"))
    tell_switch(findings, !written("drive.switch"));
}

}  // namespace cw::cases
