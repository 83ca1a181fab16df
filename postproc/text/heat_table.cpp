#include "postproc/text/summary_sections.hpp"

#include <fmt/format.h>

#include <cmath>

#include "materials/figures.hpp"
#include "postproc/text/what_is_seen.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

std::string heat_row(const std::string& label, const std::string& value,
                     const std::string& note = "") {
  std::string line = fmt::format("  {:<30} {:>10}  {}", label, value, note);
  while (line.ends_with(' ')) line.pop_back();
  return line + "\n";
}

std::string outcome(const HeatResult& heat) {
  std::string text;
  const std::string goal =
      heat.target ? fmt::format("{} {}", degrees(*heat.target), target_place(heat)) : "";
  if (heat.time_to_target) {
    text += heat_row("target reached after", figure(*heat.time_to_target, "s"), goal);
  } else if (heat.target) {
    const std::string why = heat.ended == "supply"  ? "the supply stops first"
                            : heat.ended == "stall" ? "the temperature settles"
                            : heat.ended == "time"  ? "the time has run out"
                                                    : "the run was stopped";
    text += heat_row("target", "not reached", goal + "; " + why);
  }
  if (heat.stall && heat.target)
    text += heat_row(
        *heat.stall < *heat.target ? "settles at" : "would settle only at", degrees(*heat.stall),
        fmt::format("{:+.0f} K from the target", heat.stall->kelvin - heat.target->kelvin));
  else if (heat.stall)
    text += heat_row("settles at", degrees(*heat.stall));
  if (heat.stall_by_emissivity)
    text +=
        heat_row("  emissivity 0.1 higher", fmt::format("{:+.0f} K", *heat.stall_by_emissivity));
  if (heat.stall_by_gap)
    text += heat_row("  gap to the coil 1 mm wider", fmt::format("{:+.0f} K", *heat.stall_by_gap));
  return text;
}

std::string at_end(const HeatResult& heat) {
  if (heat.lines.empty()) return "";
  const HeatLine& last = heat.lines.back();
  const auto t = [](double kelvin) { return figure(kelvin - zero_celsius) + " degC"; };
  std::string text =
      heat_row("at the end", figure(last.time, "s"),
               fmt::format("surface {}, centre {}", t(last.surface), t(last.centre)));
  text += heat_row("coldest of the stretch", t(last.coldest), "mean " + t(last.mean));
  text += heat_row("spread along its surface", figure(last.spread) + " K");
  if (heat.hardening) {
    const HardeningResult& h = *heat.hardening;
    text += heat_row("depth past " + degrees(h.austenite), millimetres(h.depth) + " mm",
                     h.through ? fmt::format("throughout after {}", figure(*h.through, "s")) : "");
    if (h.too_hot)
      text += heat_row("surface too hot after", figure(*h.too_hot, "s"), "if the power stays on");
    if (h.seconds_above_900 > 0)
      text += heat_row("above 900 degC, hottest place", figure(h.seconds_above_900, "s"));
  }
  if (heat.thermometer)
    text += heat_row(fmt::format("thermometer set to {}", figure_short(heat.thermometer->setting)),
                     degrees(heat.thermometer->shown),
                     "shown where the surface is at " + degrees(heat.thermometer->surface));
  const std::string seen = what_is_seen(heat);
  if (!seen.empty()) text += fmt::format("\n{}", wrapped(seen, {80, 2, 2}));
  return text;
}

/// Every body, and the temperature difference across every joint.
std::string bodies(const HeatResult& heat) {
  if (heat.bodies.size() < 2 && (heat.bodies.empty() || !heat.bodies.front().at_end.molten))
    return "";
  std::string text = fmt::format("\n  {:<22}{:>10}{:>10}{:>10}{:>9}\n", "At the end [degC]", "mean",
                                 "hottest", "coldest", "molten");
  for (const HeatedBody& body : heat.bodies) {
    const auto t = [](double kelvin) { return figure(kelvin - zero_celsius); };
    text += fmt::format("  {:<22}{:>10}{:>10}{:>10}{:>9}\n", body.name, t(body.at_end.mean),
                        t(body.at_end.hottest), t(body.at_end.coldest),
                        body.at_end.molten ? percent(*body.at_end.molten) : "-");
  }
  for (const JointHeat& joint : heat.joints)
    text += heat_row(fmt::format("{} to {}", joint.one, joint.other),
                     fmt::format("{:+.0f} K", joint.at_end),
                     fmt::format("across the joint; {:.0f} K at most", joint.across));
  return text;
}

std::string energies(const HeatResult& heat) {
  const auto share = [](double part, double whole) {
    return whole > 0 ? percent(part / whole) : "";
  };
  std::string text =
      "\n  Where the energy went\n" + heat_row("from the supply", figure(heat.energy, "J"));
  for (const auto& [name, joule] : heat.spent)
    text += heat_row("  " + name, figure(joule, "J"), share(joule, heat.energy));
  text += heat_row("induced in what is heated", figure(heat.induced, "J"));
  text += heat_row("  stored", figure(heat.stored, "J"), share(heat.stored, heat.induced));
  for (const auto& [name, joule] : heat.lost)
    text += heat_row("  " + name, figure(joule, "J"), share(joule, heat.induced));
  const double off = std::abs(heat.ledger_error);
  const std::string ledger = fmt::format(
      "The energy balance closes to {} %. Errors: power between the {} updates of the field {} % "
      "of the energy, mesh {} %. Times are accurate to {} %.",
      off < 1e-5 ? "0.001" : figure(100 * off), heat.field_updates,
      figure(100 * heat.interpolation_error), figure(100 * heat.mesh_error),
      figure(100 * heat.time_error()));
  return text + wrapped(ledger, {80, 2, 2});
}

}  // namespace

std::string heat_table(const HeatResult& heat) {
  return "\nHeating run\n" + outcome(heat) + at_end(heat) + bodies(heat) + energies(heat);
}

}  // namespace cw
