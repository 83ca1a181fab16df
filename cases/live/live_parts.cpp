#include "cases/live/live_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "cases/run/picture_words.hpp"
#include "materials/figures.hpp"
#include "postproc/chart/charts_of_result.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/leading_state.hpp"
#include "postproc/text/limit_words.hpp"

namespace cw::cases {

namespace {

using ShownState = const StateResult&;

/// A supply that folds back is to be watched, not stopped, although it is past its limit.
const char* limit_word(const LimitResult& limit) {
  if (limit.verdict == Verdict::stop || limit.fraction.value_or(0.0) >= 1.0) return "past";
  return limit.verdict == Verdict::watch ? "near" : "ok";
}

/// A share of a minimum would mislead.
std::string nearness_to(const LimitResult& limit) {
  if (limit_quantity(limit.quantity).at_least) return limit_words(limit);
  return limit.fraction ? percent(*limit.fraction) : "";
}

bool is_shown(const LimitResult& limit) {
  return limit.limit || limit.verdict != Verdict::ok;
}

/// In the colour of the report if the limit is not kept with room to spare.
std::string marked(const LimitResult& limit) {
  const char* word = limit_word(limit);
  if (limit.verdict == Verdict::ok) return word;
  return fmt::format("<strong class=\"{}\">{}</strong>",
                     limit.verdict == Verdict::stop ? "stop" : "watch", word);
}

StateGroup shown_states() {
  return {
      "",
      {{"Frequency", [](ShownState s) { return shown(s.frequency.hertz, "Hz"); }},
       {"Coil current, rms", [](ShownState s) { return shown(s.drive.current_rms, "A"); }},
       {"Voltage on the coil, rms", [](ShownState s) { return shown(s.drive.voltage_rms, "V"); }},
       {"Supply current",
        [](ShownState s) { return s.supply ? shown(s.supply->current, "A") : ""; }},
       {"Supply current asked for",
        [](ShownState s) { return s.supply ? shown(s.supply->demand, "A") : ""; }},
       {"Power into the work",
        [](ShownState s) { return s.power.workpiece ? shown(*s.power.workpiece, "W") : ""; }},
       {"Power in all", [](ShownState s) { return shown(s.power.total, "W"); }},
       {"Efficiency, useful over total",
        [](ShownState s) { return s.efficiency ? shown_percent(*s.efficiency) : ""; }}}};
}

std::string drawn(const Canvas& canvas, const std::string& words, const char* kind) {
  return fmt::format("<figure class=\"{}\">\n{}<figcaption>{}</figcaption>\n</figure>\n", kind,
                     inlined_drawing(svg_of(canvas), words), escaped(words));
}

/// As in the report and in print, with its title; empty without a chart.
std::string drawn(const std::optional<Chart>& chart) {
  if (!chart) return {};
  return fmt::format("<h3>{}</h3>\n{}", escaped(chart->title),
                     drawn(chart_drawing(*chart), chart->note, "still"));
}

const LimitResult* nearest_limit(const Result& result) {
  const LimitResult* nearest = nullptr;
  for (const LimitResult& limit : result.limits)
    if (limit.fraction && (nearest == nullptr || *limit.fraction > *nearest->fraction))
      nearest = &limit;
  return nearest;
}

}  // namespace

std::string verdict_part(const Result& result, bool heating_follows) {
  std::string body = verdict_section(result).body;
  constexpr std::string_view end = "</p>\n";
  if (const std::size_t first = body.find(end); heating_follows && first != std::string::npos)
    body.replace(0, first + end.size(),
                 "<p class=\"lead\">Whether it does the job follows: the heating run is being "
                 "solved.</p>\n");
  // Its links lead to sections of the report.
  if (const std::size_t links = body.find("<p class=\"onward\""); links != std::string::npos)
    body.erase(links);
  return body;
}

std::string states_part(const std::vector<StateResult>& states) {
  return state_table("States, rms values", states, {shown_states()});
}

std::string limits_part(const Result& result) {
  PageTable table{
      "Values and their limits", {"Part", "Value", "Of the limit", "Word", "State"}, {{}}};
  for (const LimitResult& limit : result.limits)
    if (is_shown(limit))
      table.groups[0].rows.push_back({escaped(limit.part),
                                      {shown_sentence(limit_words(limit)),
                                       limit_quantity(limit.quantity).at_least || !limit.fraction
                                           ? "\u2013"
                                           : shown_percent(*limit.fraction),
                                       marked(limit), state_words(limit.at_state)}});
  return table.groups[0].rows.empty() ? "<p class=\"quiet\">No limit is given in the case.</p>\n"
                                      : markup(table);
}

std::vector<LimitLamp> limit_lamps(const Result& result) {
  std::vector<LimitResult> shown_limits;
  std::ranges::copy_if(result.limits, std::back_inserter(shown_limits), is_shown);
  std::ranges::stable_sort(shown_limits, std::ranges::greater(),
                           [](const LimitResult& limit) { return limit.fraction.value_or(0.0); });
  std::vector<LimitLamp> lamps;
  lamps.reserve(shown_limits.size());
  for (const LimitResult& limit : shown_limits)
    lamps.push_back(
        {limit.part, plain_state(limit.at_state), limit_word(limit), nearness_to(limit)});
  return lamps;
}

std::string warnings_part(const Result& result) {
  return warnings_section(result).body;
}

std::string care_part(const Result& result) {
  return care_section(result).body;
}

std::string cautions_part(const Result& result) {
  return cautions_section(result).body;
}

std::string demand_part(const Result& result) {
  return drawn(demand_chart(result));
}

std::string heating_part(const Result& result) {
  return drawn(heating_chart(result)) + drawn(heating_power_chart(result)) +
         drawn(heating_supply_chart(result)) + drawn(heating_balance_chart(result)) +
         drawn(heating_frequency_chart(result));
}

std::string field_part(const Run& run, const Case& subject) {
  const StateResult* leading = leading_state(run.result);
  if (leading == nullptr) return {};
  const auto i = static_cast<std::size_t>(leading - run.result.states.data());
  const SolvedState& state = run.states[i];
  PictureInput input{*state.mesh, state.field, run.result.title, leading->drive.current_rms};
  input.labels = picture_labels(subject);
  input.dimensions = picture_dimensions(subject, state.mesh->find_region("workpiece") > 0);
  return drawn(
      field_picture(input),
      fmt::format("State {}. Left: flux density, mT rms. Right: power density, W/cm\u00b3, "
                  "logarithmic scale.",
                  plain_state(leading->name)),
      "picture");
}

std::vector<std::pair<std::string, std::string>> compared_figures(const Result& result) {
  std::vector<std::pair<std::string, std::string>> rows;
  if (result.heat && result.heat->target)
    rows.emplace_back("Time to the target", result.heat->time_to_target
                                                ? figure(*result.heat->time_to_target, "s")
                                                : "not reached");
  if (const StateResult* state = leading_state(result)) {
    rows.emplace_back("State compared", plain_state(state->name));
    rows.emplace_back("Frequency", figure(state->frequency.hertz, "Hz"));
    rows.emplace_back("Coil current, rms", figure(state->drive.current_rms, "A"));
    rows.emplace_back("Voltage on the coil, rms", figure(state->drive.voltage_rms, "V"));
    if (state->supply) rows.emplace_back("Supply current", figure(state->supply->current, "A"));
    if (state->power.workpiece)
      rows.emplace_back("Power into the work", figure(*state->power.workpiece, "W"));
    if (state->efficiency) rows.emplace_back("Efficiency", percent(*state->efficiency));
  }
  if (const LimitResult* limit = nearest_limit(result)) {
    rows.emplace_back("Most loaded part", limit->part);
    rows.emplace_back("Its share of the limit", percent(*limit->fraction));
  }
  return rows;
}

}  // namespace cw::cases
