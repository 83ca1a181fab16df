#include <fmt/core.h>

#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

/// "empty_frequency" in words; what is read where.
std::string reading_words(const std::string& name) {
  if (name == "empty_inductance") return "Empty coil: inductance at the ends of the leads";
  if (name == "empty_frequency") return "Empty coil: frequency";
  if (name == "empty_current") return "Empty coil: supply current, DC";
  if (name == "loaded_frequency") return "Cold work in place: frequency";
  if (name == "loaded_current") return "Cold work in place: supply current, DC";
  if (name == "transformer_voltage") return "Empty coil: across the current transformer, rms";
  if (name == "pickup_voltage") return "Empty coil: across the pick-up loop, rms";
  return capitalised(state_words(name));
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
  if (!result.commissioning || result.commissioning->readings.empty()) return {};
  PageTable table{"Expected readings", {"Reading", "Expected", "Within", "Mine"}, {{}}};
  for (const ReadingResult& r : result.commissioning->readings)
    table.groups[0].rows.push_back(
        {reading_words(r.name),
         {shown(r.value, r.unit),
          fmt::format("{} to {}", shown(r.low, r.unit), shown(r.high, r.unit)),
          "<span class=\"blank\"></span>"}});
  return {
      "commissioning", "Commissioning sheet",
      "<p>At the supply voltage of the case, the empty coil first. The band is what the tolerances "
      "of the parts leave. Outside it, write the readings into a file: <code>coilwright compare "
      "CASE.toml READINGS.toml</code> says which fault explains them.</p>\n" +
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
