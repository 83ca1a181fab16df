#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <utility>

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
  // What a key ends with, and the unit it means; the longest first.
  constexpr std::array<std::pair<std::string_view, std::string_view>, 13> units = {
      {{"_A_per_m", "A/m"},
       {"_var", "var"},
       {"_ohm", "ohm"},
       {"_Hz", "Hz"},
       {"_A", "A"},
       {"_V", "V"},
       {"_W", "W"},
       {"_K", "K"},
       {"_T", "T"},
       {"_J", "J"},
       {"_s", "s"},
       {"_m", "m"},
       {"_H", "H"}}};
  Quantity quantity{escaped(key), ""};
  for (const auto& [ending, unit] : units) {
    if (!key.ends_with(ending)) continue;
    quantity = {escaped(key.substr(0, key.size() - ending.size())), std::string(unit)};
    break;
  }
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

}  // namespace

PageSection limits_section(const Result& result) {
  if (result.limits.empty()) return {};
  PageTable table{
      "Values against their limits",
      {"Part", "Quantity", "Value", "Limit", "Of the limit", "Verdict", "State", "What to do"},
      {{}}};
  for (const auto& limit : result.limits) {
    const Quantity quantity = quantity_of(limit.quantity);
    table.groups[0].rows.push_back(
        {escaped(limit.part),
         {quantity.words, shown_in(limit.value, quantity.unit),
          limit.limit ? shown_in(*limit.limit, quantity.unit) : "none given",
          limit.fraction ? shown_percent(*limit.fraction) : "\u2013",
          limit.limit ? fmt::format("<strong class=\"{0}\">{0}</strong>", word(limit.verdict))
                      : "\u2013",
          state_words(limit.at_state), escaped(limit.advice)}});
  }
  return {"limits", "Limits", chart_figure(limits_chart(result)) + markup(table)};
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
