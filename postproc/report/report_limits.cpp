#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/chart/charts_of_result.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/text/limit_words.hpp"

namespace cw {

namespace {

std::string shown_in(double value, const LimitQuantity& q, bool with_tail) {
  const double x = q.scale * value;
  std::string text;
  if (q.unit.empty())
    text = figure(x);
  else if (q.unit == "%")
    text = shown_percent(x / 100);
  else if (q.unit == "K")
    text = shown_celsius(Temperature{x});
  else if (q.unit == "kelvin")
    text = shown_difference(x);
  else if (q.unit == "m")
    text = shown_mm(x);
  else if (q.unit == "m/s")
    text = shown_velocity(x);
  else
    text = shown(x, q.unit);
  return with_tail && !q.tail.empty() ? text + " " + escaped(q.tail) : text;
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

/// The field at every distance.
std::string distances(const ExposureResult& exposure) {
  PageTable table{"From the nearest copper of the coil, flux density, rms",
                  {"Distance", "On the axis", "Beside the coil"},
                  {{}}};
  for (std::size_t i = 0; i < exposure.axis_rms.size(); ++i)
    table.groups[0].rows.push_back(
        {shown_distance(exposure.distances[i]),
         {shown(exposure.axis_rms[i], "T"), shown(exposure.beside_rms[i], "T")}});
  return markup(table);
}

/// The keep-out distance for every level.
std::string levels(const ExposureResult& exposure) {
  PageTable table{fmt::format("Safe distance, state {}", state_words(exposure.at_state)),
                  {"Reference level", "Flux density, rms", "Keep out"},
                  {{}}};
  for (const ExposureLevel& level : exposure.levels)
    table.groups[0].rows.push_back(
        {escaped(level.name), {shown(level.level, "T"), shown_distance(level.keep_out)}});
  return markup(table) +
         "<p>The local rule decides. These levels do not cover implants: people with an implant "
         "stay out of the room.</p>\n";
}

}  // namespace

PageSection limits_section(const Result& result) {
  if (result.limits.empty()) return {};
  PageTable table{
      "Values and their limits",
      {"Part", "Quantity", "Value", "Limit", "Of the limit", "Verdict", "State", "What to do"},
      {{}, {"No limit given", {}}}};
  for (const auto& limit : result.limits) {
    const LimitQuantity quantity = limit_quantity(limit.quantity);
    table.groups[limit.limit || limit.verdict != Verdict::ok ? 0 : 1].rows.push_back(
        {escaped(limit.part),
         {escaped(quantity.words), shown_in(limit.value, quantity, true),
          limit.limit
              ? (quantity.at_least ? "at least " : "") + shown_in(*limit.limit, quantity, false)
              : "none given",
          limit.fraction ? shown_percent(*limit.fraction) : "\u2013",
          limit.limit || limit.verdict != Verdict::ok
              ? fmt::format("<strong class=\"{0}\">{0}</strong>", word(limit.verdict))
              : "\u2013",
          state_words(limit.at_state), shown_sentence(limit.advice)}});
  }
  return {"limits", "Limits", chart_figure(limits_chart(result)) + markup(table)};
}

PageSection stray_field_section(const Result& result, const std::vector<ReportPicture>& pictures) {
  const std::string drawn = stray_figure(pictures);
  if (!result.exposure) return {"stray-field", "Stray field", drawn};
  const ExposureResult& exposure = *result.exposure;
  const std::string keep_out =
      exposure.keep_out
          ? fmt::format("<p class=\"lead\">Keep-out distance {}, {}.</p>\n",
                        shown_distance(*exposure.keep_out), escaped(exposure.reference))
          : "";
  return {"stray-field", "Stray field",
          keep_out + levels(exposure) + chart_figure(stray_field_chart(result)) +
              distances(exposure) + drawn};
}

}  // namespace cw
