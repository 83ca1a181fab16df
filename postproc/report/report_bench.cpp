#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

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

std::string supply_line(const PushPullDrive& drive) {
  return fmt::format(
      "{} DC{}", shown(drive.supply, "V"),
      drive.supply_limit ? fmt::format(", limit {}", shown(*drive.supply_limit, "A")) : "");
}

std::string where(TargetAt at) {
  switch (at) {
    case TargetAt::mean:
      return "on average";
    case TargetAt::centre:
      return "at the centre";
    case TargetAt::surface:
      return "at the surface";
    case TargetAt::coldest:
      break;
  }
  return "where it is coldest";
}

std::string target_line(const Heater& heater, const std::optional<HeatResult>& heat) {
  if (!heater.heat || !heater.heat->target) return "";
  std::string time = "seconds: find them with a first trial, this run has none";
  if (heat && heat->reached && heat->time_to_target)
    time = fmt::format("after {}", shown(*heat->time_to_target, "s"));
  if (heat && !heat->reached) time = "not reached: see the verdict";
  return fmt::format("{} {}, {}", shown_celsius(*heater.heat->target),
                     where(heater.heat->target_at), time);
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
  if (!result.heater || !result.heater->workpiece) return {};
  const Heater& heater = *result.heater;
  const OutlineExtent work = extent_of(heater.workpiece->outline);
  std::string text =
      card_line("Work", fmt::format("{}, {} diameter", escaped(heater.workpiece->material.name),
                                    drawn_mm(2.0 * work.outer)));
  text += card_line("Position", position(work));
  if (const auto* drive = std::get_if<PushPullDrive>(&heater.drive))
    text += card_line("Supply", supply_line(*drive));
  const std::string target = target_line(heater, result.heat);
  if (!target.empty()) text += card_line("Heat to", target);
  if (heater.coil.coolant)
    text +=
        card_line("Water first", fmt::format("{} l/min", figure(6e4 * heater.coil.coolant->flow)));
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
