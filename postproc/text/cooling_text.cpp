#include "postproc/text/cooling_text.hpp"

#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {
namespace {

std::string row(const std::string& label, const std::string& value, const std::string& note = "") {
  std::string line = fmt::format("  {:<26} {:>12}", label, value);
  if (note.empty()) return line + "\n";
  if (line.size() + 2 + note.size() <= 80) return fmt::format("{}  {}\n", line, note);
  return fmt::format("{}\n{}", line, wrapped(note, {80, 6, 6}));
}

std::string degrees(Temperature t) {
  return figure(t.in_celsius()) + " degC";
}

std::string litres(double flow) {
  return figure(flow * 60e3) + " L/min";
}

std::string seconds(double t) {
  return figure(t) + " s";
}

std::string water_rows(const WaterCooling& w) {
  std::string text = row("water", litres(w.flow),
                         fmt::format("{} in, {} out", degrees(w.inlet), degrees(w.outlet)));
  text += row("flow for the wanted rise", litres(w.flow_for_rise),
              fmt::format("{} K", figure(w.wanted_rise)));
  text += row("tube wall, hottest", degrees(w.wall_hottest),
              fmt::format("{} K below boiling", figure(w.boiling_margin)));
  text += row("velocity", figure(w.velocity) + " m/s",
              fmt::format("Reynolds number {}", figure(w.reynolds)));
  text += row("pressure drop", figure(w.pressure_drop, "Pa"), "coil and leads, hoses not");
  if (w.no_flow_to_boiling)
    text += row("flow lost: boils after", seconds(*w.no_flow_to_boiling),
                w.no_flow_to_solder
                    ? fmt::format("soft solder gives way after {}", seconds(*w.no_flow_to_solder))
                    : "");
  return text;
}

std::string air_rows(const StillAirCooling& a) {
  std::string text = row("no water: rises by", figure(a.first_rate) + " K/s",
                         fmt::format("at first, from {}", degrees(a.surroundings)));
  if (a.settles) return text + row("settles at", degrees(*a.settles));
  if (a.first_on)
    text += row("allowed on from cold", seconds(*a.first_on), "to " + degrees(a.limit));
  if (a.on && a.off)
    text += row("after that, on", seconds(*a.on),
                fmt::format("then {} off, down to {}", seconds(*a.off), degrees(a.restart)));
  return text + row("on, as a share of time", percent(a.largest_share), "at most, in short bursts");
}

}  // namespace

std::string cooling_text(const CoolingResult& c) {
  std::string text = fmt::format("\nCooling of the coil, state {}\n", c.at_state);
  text += row("heat in the tube", figure(c.heat(), "W"),
              fmt::format("coil {}, leads {}, from the work {}", figure(c.coil_loss, "W"),
                          figure(c.lead_loss, "W"), figure(c.from_work, "W")));
  if (c.water) text += water_rows(*c.water);
  if (c.air) text += air_rows(*c.air);
  return text;
}

}  // namespace cw
