#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "postproc/chart/charts_of_result.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

/// "current_rms_A" as name and unit.
struct Quantity {
  std::string words;  ///< "current rms"; escaped
  std::string unit;   ///< "A"; empty where the name ends with none we know
};

Quantity quantity_of(const std::string& key) {
  constexpr std::array<std::string_view, 12> units = {"A", "V", "W", "K",   "Hz", "T",
                                                      "J", "s", "m", "ohm", "H",  "var"};
  const std::size_t gap = key.rfind('_');
  Quantity quantity{escaped(key), ""};
  if (gap != std::string::npos &&
      std::find(units.begin(), units.end(), key.substr(gap + 1)) != units.end())
    quantity = {escaped(key.substr(0, gap)), key.substr(gap + 1)};
  std::replace(quantity.words.begin(), quantity.words.end(), '_', ' ');
  return quantity;
}

std::string shown_in(double value, const std::string& unit) {
  if (unit.empty()) return figure(value);
  if (unit == "K") return shown_celsius(Temperature{value});
  if (unit == "m") return shown_mm(value);
  return shown(value, unit);
}

const char* word(Verdict verdict) {
  switch (verdict) {
    case Verdict::ok:
      return "kept";
    case Verdict::watch:
      return "watch";
    case Verdict::stop:
      break;
  }
  return "stop";
}

/// A bar against the mark of the limit; `widest` is the fraction at the right edge.
std::string bar(const LimitResult& limit, double widest) {
  if (!limit.fraction) return "no limit given";
  const double share = std::clamp(*limit.fraction / widest, 0.0, 1.0);
  return fmt::format(
      "{0}<svg class=\"inline limit{1}\" width=\"120\" height=\"14\" aria-hidden=\"true\"><rect "
      "y=\"2\" width=\"{2:.1f}\" height=\"10\"/><line x1=\"{3:.1f}\" x2=\"{3:.1f}\" y1=\"0\" "
      "y2=\"14\"/></svg>",
      shown_percent(*limit.fraction), limit.verdict == Verdict::stop ? " over" : "", 120.0 * share,
      120.0 / widest);
}

}  // namespace

PageSection limits_section(const Result& result) {
  if (result.limits.empty()) return {};
  double widest = 1.25;
  for (const auto& limit : result.limits) widest = std::max(widest, limit.fraction.value_or(0.0));
  PageTable table{
      "Values against their limits; the upright line is the limit",
      {"Part", "Quantity", "Value", "Limit", "Of the limit", "Verdict", "State", "What to do"},
      {{}}};
  for (const auto& limit : result.limits) {
    const Quantity quantity = quantity_of(limit.quantity);
    table.groups[0].rows.push_back(
        {escaped(limit.part),
         {quantity.words, shown_in(limit.value, quantity.unit),
          limit.limit ? shown_in(*limit.limit, quantity.unit) : "\u2013", bar(limit, widest),
          fmt::format("<strong class=\"{0}\">{0}</strong>", word(limit.verdict)),
          state_words(limit.at_state), escaped(limit.advice)}});
  }
  return {"limits", "Limits", chart_figure(limits_chart(result)) + markup(table)};
}

PageSection heat_section(const Result& result) {
  if (!result.heat) return {};
  const HeatResult& heat = *result.heat;
  std::vector<TableRow> rows = {{"Target", {heat.reached ? "reached" : "not reached"}}};
  if (heat.time_to_target)
    rows.push_back({"Time to the target", {shown(*heat.time_to_target, "s")}});
  if (heat.stall) rows.push_back({"Stops getting hotter at", {shown_celsius(*heat.stall)}});
  rows.push_back({"Energy from the supply", {shown(heat.energy, "J")}});
  rows.push_back(
      {"Energy not accounted for, of what was induced", {shown_percent(heat.ledger_error)}});
  rows.push_back({"Every moment, as a table", {escaped(heat.history)}});
  return {"heat", "Heating run", markup({"Heating run", {"Quantity", "Value"}, {{"", rows}}})};
}

PageSection stray_field_section(const Result& result, const std::vector<ReportPicture>& pictures) {
  const std::string drawn = stray_figure(pictures);
  if (!result.exposure || result.exposure->distances.empty())
    return {"stray-field", "Stray field", drawn};
  const ExposureResult& exposure = *result.exposure;
  PageTable table{"Largest field at a distance from the outside of the coil",
                  {"Distance", "Flux density, rms"},
                  {{}}};
  for (std::size_t i = 0; i < std::min(exposure.distances.size(), exposure.field_rms.size()); ++i) {
    table.groups[0].rows.push_back(
        {shown(exposure.distances[i], "m"), {shown(exposure.field_rms[i], "T")}});
  }
  const std::string keep_out =
      exposure.keep_out ? fmt::format("<p class=\"lead\">Keep-out distance {}, {}.</p>\n",
                                      shown(*exposure.keep_out, "m"), escaped(exposure.reference))
                        : "";
  return {"stray-field", "Stray field", keep_out + drawn + markup(table)};
}

}  // namespace cw
