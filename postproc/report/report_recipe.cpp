#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/cautions.hpp"

namespace cw {

namespace {

/// The position of the workpiece in the coil, in words for the card.
std::string position(const OutlineExtent& work) {
  const auto side = [](double z) {
    return fmt::format("{} {}", drawn_mm(std::abs(z)), z < 0.0 ? "below" : "above");
  };
  return fmt::format("Lower end {}, upper end {} the middle of the coil", side(work.low),
                     side(work.high));
}

std::string card_line(const char* name, const std::string& value) {
  return fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", name, value);
}

std::string supply_line(const DcSupply& drive) {
  return fmt::format(
      "{} DC{}", shown(drive.supply, "V"),
      drive.supply_limit ? fmt::format(", limit {}", shown(*drive.supply_limit, "A")) : "");
}

std::string target_line(const Heater& heater, const std::optional<HeatResult>& heat) {
  if (!heater.heat || !heater.heat->target) return "";
  std::string time = "time not computed in this run: find it in a first trial";
  if (heat && heat->reached && heat->time_to_target)
    time = fmt::format("after {}", shown(*heat->time_to_target, "s"));
  if (heat && !heat->reached) time = "not reached: see the verdict";
  HeatResult asked;
  take_target(heater, asked);
  const std::string place = shown_sentence(target_place(heat.value_or(asked)));
  return fmt::format("{} {}, {}", shown_celsius(*heater.heat->target), place, time);
}

std::string coil_line(const Coil& coil) {
  std::string text = fmt::format("{} turns of {}; bore {}", figure_short(coil.turns),
                                 conductor_words(coil.conductor), drawn_mm(coil.bore));
  if (coil.shape == CoilShape::cone && coil.bore_end)
    text += fmt::format(" to {}", drawn_mm(*coil.bore_end));
  if (coil.pitch > 0.0) text += fmt::format(", {} from turn to turn", drawn_mm(coil.pitch));
  return text;
}

std::string bank_line(const Tank& tank) {
  return tank.cans ? fmt::format("{} cans of {} {}, {} in all", *tank.cans,
                                 shown(tank.can_capacitance(), "F"), wiring_of(tank),
                                 shown(tank.capacitance, "F"))
                   : shown(tank.capacitance, "F");
}

/// The frequency of the drive, or its range over the states.
std::string frequency_line(const Result& result) {
  if (result.states.empty()) return "";
  const auto [low, high] = std::ranges::minmax(
      result.states, {}, [](const StateResult& s) { return s.frequency.hertz; });
  const std::string least = shown(low.frequency.hertz, "Hz"),
                    most = shown(high.frequency.hertz, "Hz");
  return least == most ? least : fmt::format("{} to {}", least, most);
}

/// The largest coil current over the states.
std::string current_line(const Result& result) {
  double most = 0.0;
  for (const StateResult& state : result.states) most = std::max(most, state.drive.current_rms);
  return most > 0.0 ? shown(most, "A") + " rms at most" : "";
}

std::string work_line(const Workpiece& work) {
  const OutlineExtent extent = extent_of(work.outline);
  return fmt::format("{}, {} diameter, {} long", escaped(work.material.name),
                     drawn_mm(2.0 * extent.outer), drawn_mm(extent.high - extent.low));
}

/// The common part of card and recipe, from the supply on.
std::string settings(const Result& result) {
  const Heater& heater = *result.heater;
  std::string text;
  const auto add = [&](const char* name, const std::string& value) {
    if (!value.empty()) text += card_line(name, value);
  };
  if (const DcSupply* supply = supply_of(heater.drive)) add("Supply", supply_line(*supply));
  add("Heat to", target_line(heater, result.heat));
  if (heater.coil.coolant)
    add("Water first", fmt::format("{} L/min", figure(6e4 * heater.coil.coolant->flow)));
  if (result.exposure && result.exposure->keep_out)
    add("Keep out", shown_distance(*result.exposure->keep_out));
  return text;
}

}  // namespace

PageSection recipe_section(const Result& result) {
  if (!result.heater) return {};
  const Heater& heater = *result.heater;
  std::string text = card_line("Coil", coil_line(heater.coil));
  if (heater.tank) text += card_line("Bank", bank_line(*heater.tank));
  if (heater.workpiece) text += card_line("Work", work_line(*heater.workpiece));
  for (const auto& [name, value] :
       {std::pair{"Frequency", frequency_line(result)}, {"Coil current", current_line(result)}})
    if (!value.empty()) text += card_line(name, value);
  return {"recipe", "What to build and set",
          fmt::format("<dl class=\"lines\">\n{}</dl>\n<p class=\"onward\">{}{}</p>\n",
                      text + settings(result), "<a href=\"#parts\">Parts to buy</a>",
                      heater.coil.shape == CoilShape::rings
                          ? ""
                          : " \u00b7 <a href=\"#winding\">How to wind it</a>")};
}

PageSection recipe_card_section(const Result& result) {
  if (!result.heater || !result.heater->workpiece) return {};
  const Workpiece& work = *result.heater->workpiece;
  const std::string text = card_line("Work", work_line(work)) +
                           card_line("Position", position(extent_of(work.outline))) +
                           settings(result) + card_line("Seen to", "<span class=\"blank\"></span>");
  return {"recipe-card", "Recipe card for the wall",
          fmt::format("<div class=\"card\">\n<p class=\"lead\">{}</p>\n<dl "
                      "class=\"lines\">\n{}</dl>\n<p>Water before "
                      "power. Nothing magnetic on hands or in pockets. Never unattended.</p>\n"
                      "<p>{}</p>\n<p>{}</p>\n</div>\n",
                      escaped(result.title), text, shown_sentence(voltage_rule()),
                      shown_sentence(standing_line()))};
}

}  // namespace cw
