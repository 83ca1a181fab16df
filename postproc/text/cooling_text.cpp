#include "postproc/text/summary_sections.hpp"

#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {
namespace {

std::string litres(double flow) {
  return figure(flow * 60e3) + " L/min";
}

std::string seconds(double t) {
  return figure(t) + " s";
}

std::string water_rows(const WaterCooling& w) {
  std::string text = summary_row("water", litres(w.flow),
                                 fmt::format("{} in, {} out", degrees(w.inlet), degrees(w.outlet)));
  text += summary_row("flow for the wanted rise", litres(w.flow_for_rise),
                      fmt::format("{} K", figure(w.wanted_rise)));
  text += summary_row("tube wall, hottest", degrees(w.wall_hottest),
                      fmt::format("{} K below boiling", figure(w.boiling_margin)));
  text += summary_row("velocity", figure(w.velocity) + " m/s",
                      fmt::format("Reynolds number {}", figure(w.reynolds)));
  text += summary_row("pressure drop", figure(w.pressure_drop, "Pa"), "coil and leads, hoses not");
  if (w.no_flow_to_boiling)
    text += summary_row("flow lost: boils after", seconds(*w.no_flow_to_boiling),
                        w.no_flow_to_solder ? fmt::format("soft solder softens after {}",
                                                          seconds(*w.no_flow_to_solder))
                                            : "");
  return text;
}

std::string air_rows(const StillAirCooling& a) {
  std::string text = summary_row("no water: rises by", figure(a.first_rate) + " K/s",
                                 fmt::format("at first, from {}", degrees(a.surroundings)));
  if (a.settles) return text + summary_row("settles at", degrees(*a.settles));
  if (a.first_on)
    text += summary_row("allowed on from cold", seconds(*a.first_on), "to " + degrees(a.limit));
  if (a.on && a.off)
    text +=
        summary_row("after that, on", seconds(*a.on),
                    fmt::format("then {} off, down to {}", seconds(*a.off), degrees(a.restart)));
  return text + summary_row("on, as a share of time", percent(a.largest_share),
                            "at most, in short bursts");
}

}  // namespace

std::string cooling_text(const CoolingResult& c) {
  std::string text = fmt::format("\nCooling of the coil, state {}\n", c.at_state);
  text += summary_row("heat in the tube", figure(c.heat(), "W"),
                      fmt::format("coil {}, leads {}, from the work {}", figure(c.coil_loss, "W"),
                                  figure(c.lead_loss, "W"), figure(c.from_work, "W")));
  if (c.water) text += water_rows(*c.water);
  if (c.air) text += air_rows(*c.air);
  return text;
}

std::string exposure_text(const ExposureResult& e) {
  if (e.levels.empty()) return "";
  std::string text = fmt::format("\nStray field, rms, state {}\n", e.at_state);
  text += fmt::format("  {:<28} {:>12}  {:>12}\n", "distance from the coil", "on its axis",
                      "beside it");
  for (std::size_t i = 0; i < e.axis_rms.size(); ++i)
    text += fmt::format("  {:<28} {:>12}  {:>12}\n", figure(e.distances[i], "m"),
                        figure(e.axis_rms[i], "T"), figure(e.beside_rms[i], "T"));
  for (const ExposureLevel& level : e.levels)
    text += fmt::format("  {:<36} {:>8}: keep out {}\n", level.name, figure(level.level, "T"),
                        figure(level.keep_out, "m"));
  return text +
         wrapped("The local rule decides; implants are not covered by these levels.", {80, 2, 2});
}

}  // namespace cw
