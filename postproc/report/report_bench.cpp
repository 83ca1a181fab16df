#include <fmt/core.h>

#include <algorithm>

#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

const StateResult* state_named(const Result& result, const char* name) {
  const auto found = std::find_if(result.states.begin(), result.states.end(),
                                  [&](const StateResult& s) { return s.name == name; });
  return found == result.states.end() ? nullptr : &*found;
}

/// Cans of +-10 % (common practice, no source) move the frequency by half of that the other way,
/// since it goes as 1/sqrt(C); the currents by half of that the same way.
constexpr double can_tolerance = 0.1;

/// A value with what the tolerance of the cans leaves, and a line to write the reading on.
TableRow reading(const std::string& name, double value, const char* unit, bool at_limit = false) {
  if (at_limit)
    return {name, {shown(value, unit), "at its limit", "<span class=\"blank\"></span>"}};
  return {name,
          {shown(value, unit),
           fmt::format("{} to {}", shown(value * (1.0 - can_tolerance / 2), unit),
                       shown(value * (1.0 + can_tolerance / 2), unit)),
           "<span class=\"blank\"></span>"}};
}

void add_readings(const StateResult& state, const std::string& when, std::vector<TableRow>& rows) {
  rows.push_back(reading(when + ": frequency", state.frequency.hertz, "Hz"));
  if (state.supply)
    rows.push_back(
        reading(when + ": supply current, DC", state.supply->current, "A", state.supply->limited));
  rows.push_back(reading(when + ": coil current, rms", state.drive.current_rms, "A"));
}

/// Where the workpiece stands in the coil, in words for the wall.
std::string position(const WorkpieceDesign& w) {
  const auto side = [](double z) {
    return fmt::format("{} {}", drawn_mm(std::abs(z)), z < 0.0 ? "below" : "above");
  };
  return fmt::format("Lower end {}, upper end {} the middle of the coil", side(w.bottom),
                     side(w.top));
}

std::string card_line(const char* name, const std::string& value) {
  return fmt::format("<div><dt>{}</dt><dd>{}</dd></div>\n", name, value);
}

std::string supply_line(const SupplyDesign& supply) {
  return fmt::format("{} DC{}", shown(supply.voltage, "V"),
                     supply.limit ? fmt::format(", limit {}", shown(*supply.limit, "A")) : "");
}

std::string target_line(const WorkpieceDesign& w, const std::optional<HeatResult>& heat) {
  if (!w.target) return "";
  const std::string where = w.target_at == "mean"      ? "on average"
                            : w.target_at == "centre"  ? "at the centre"
                            : w.target_at == "surface" ? "at the surface"
                                                       : "where it is coldest";
  std::string time = "seconds: find them with a first trial, this run has none";
  if (heat && heat->reached && heat->time_to_target)
    time = fmt::format("after {}", shown(*heat->time_to_target, "s"));
  if (heat && !heat->reached) time = "not reached: see the verdict";
  return fmt::format("{} {}, {}", shown_celsius(*w.target), where, time);
}

}  // namespace

PageSection commissioning_section(const Result& result) {
  const StateResult* empty = state_named(result, "empty");
  if (empty == nullptr) return {};
  PageTable table{"Expected readings", {"Reading", "Expected", "Within", "Mine"}, {{}}};
  auto& rows = table.groups[0].rows;
  add_readings(*empty, "Empty coil", rows);
  for (const char* name : {"cold", "peak_demand"})
    if (const StateResult* state = state_named(result, name))
      add_readings(*state, capitalised(state_words(name)) + ", work in place", rows);
  return {
      "commissioning", "Commissioning sheet",
      "<p>Measure the empty coil first, at a low voltage: frequencies hold at any voltage while "
      "there is no steel, currents go with it. The band is that of cans of \u00b1 10 % (common "
      "practice, no source); outside it look for a wrong number of turns, a missing can, "
      "longer leads, a shorted turn.</p>\n" +
          markup(table)};
}

PageSection recipe_section(const Result& result) {
  if (!result.design || !result.design->workpiece) return {};
  const Design& design = *result.design;
  const WorkpieceDesign& w = *design.workpiece;
  std::string text =
      card_line("Work", fmt::format("{}, {} diameter", escaped(w.material), drawn_mm(w.diameter)));
  text += card_line("Position", position(w));
  if (design.supply) text += card_line("Supply", supply_line(*design.supply));
  const std::string target = target_line(w, result.heat);
  if (!target.empty()) text += card_line("Heat to", target);
  if (design.coil.coolant_flow)
    text +=
        card_line("Water first", fmt::format("{} l/min", figure(6e4 * *design.coil.coolant_flow)));
  if (result.exposure && result.exposure->keep_out)
    text += card_line("Keep out", shown(*result.exposure->keep_out, "m"));
  text += card_line("Seen to", "<span class=\"blank\"></span>");
  return {
      "recipe", "Recipe card for the wall",
      fmt::format("<div class=\"card\">\n<p class=\"lead\">{}</p>\n<dl>\n{}</dl>\n<p>Water before "
                  "power. Nothing magnetic on hands or in pockets. Never unattended.</p>\n</div>\n",
                  escaped(result.title), text)};
}

}  // namespace cw
