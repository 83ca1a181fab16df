#include "postproc/text/summary.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <tuple>
#include <utility>

#include "materials/figures.hpp"
#include "postproc/result/cautions.hpp"
#include "postproc/result/write_tables.hpp"
#include "postproc/text/limit_words.hpp"
#include "postproc/text/summary_sections.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

constexpr std::size_t summary_columns = 80;

/// Share of the power in the work below which the match is poor: common practice, no source.
constexpr double poor_match = 0.35;

std::string heading(const std::string& text) {
  return fmt::format("\n{}\n", text);
}

std::string state_title(const StateResult& state) {
  std::string title =
      fmt::format("State {} at {}", state.name, figure(state.frequency.hertz, "Hz"));
  if (state.workpiece_temperature) {
    title +=
        fmt::format(", workpiece at {} degC", figure(state.workpiece_temperature->in_celsius()));
  }
  return heading(title);
}

std::string coil_rows(const StateResult& state) {
  const auto& coil = state.coil;
  const double reactance = state.frequency.omega() * coil.inductance;
  const double current = state.drive.current_rms;
  std::string text;
  text += summary_row("coil current", figure(current, "A"),
                      fmt::format("rms ({} peak)", figure(current * std::numbers::sqrt2, "A")));
  text += summary_row(
      "voltage on coil and leads", figure(state.drive.voltage_rms, "V"),
      fmt::format("rms ({} peak)", figure(state.drive.voltage_rms * std::numbers::sqrt2, "V")));
  text += summary_row("inductance", figure(coil.inductance, "H"),
                      fmt::format("with leads {}, helix {}", figure(coil.lead_inductance, "H"),
                                  figure(coil.helix_correction, "H")));
  text += summary_row(
      "series resistance", figure(coil.resistance, "ohm"),
      fmt::format("winding {}, from the work {}", figure(coil.conductor_resistance, "ohm"),
                  figure(coil.reflected_resistance, "ohm")));
  text += summary_row("reactance", figure(reactance, "ohm"));
  text +=
      summary_row("reactive power", figure(reactance * current * current, "var"), "in the coil");
  if (coil.resistance > 0.0)
    text += summary_row("Q", figure(reactance / coil.resistance), "reactance over resistance");
  return text;
}

std::string circuit_rows(const StateResult& state) {
  std::string text;
  if (state.tank) {
    text += summary_row("tank voltage", figure(state.tank->voltage_rms, "V"),
                        fmt::format("rms ({} peak)", figure(state.tank->voltage_peak, "V")));
    text += summary_row("tank current", figure(state.tank->current_rms, "A"), "rms");
    text += summary_row("capacitor current", figure(state.tank->capacitor_current_rms, "A"),
                        "rms, whole bank");
    text += summary_row("loaded Q", figure(state.tank->loaded_q));
  }
  if (state.supply) {
    text += summary_row("supply", figure(state.supply->current, "A"),
                        fmt::format("at {}; asks for {}{}", figure(state.supply->voltage, "V"),
                                    figure(state.supply->demand, "A"),
                                    state.supply->limited ? ": the limit acts" : ""));
  }
  return text;
}

std::string power_rows(const StateResult& state) {
  const auto& power = state.power;
  std::string text = heading("  Where the power goes");
  for (const auto& [name, watts] : power_parts(power))
    text += summary_row(name, figure(watts, "W"),
                        power.total > 0.0 ? percent(watts / power.total) : "");
  text += summary_row("total", figure(power.total, "W"));
  if (state.efficiency)
    text += summary_row("efficiency", percent(*state.efficiency), "useful over total");
  return text;
}

std::string work_rows(const StateResult& state) {
  std::string text;
  if (state.skin_depth)
    text += summary_row("skin depth in the work", figure(1e3 * *state.skin_depth) + " mm");
  if (state.surface_field_rms)
    text += summary_row("field at its surface", figure(*state.surface_field_rms, "A/m"),
                        "rms, largest");
  if (state.saturation) {
    const double mu = state.saturation->relative_permeability;
    text += summary_row("relative permeability", figure(mu),
                        mu > 1.0 ? "there, saturated" : "there, past its Curie point");
    text += summary_row("skin depth, over its surface",
                        figure(1e3 * state.saturation->least_skin_depth) + " mm",
                        "to " + figure(1e3 * state.saturation->largest_skin_depth) + " mm");
    text += summary_row("power in the first skin depth",
                        figure(100 * state.saturation->share_in_first_skin_depth) + " %");
  }
  return text;
}

std::string accuracy_rows(const Accuracy& accuracy) {
  std::string parts;
  const auto add = [&](const char* name, const std::optional<double>& relative) {
    if (relative)
      parts += fmt::format("{}{} {}", parts.empty() ? "" : ", ", name, percent(*relative));
  };
  add("work power", accuracy.workpiece_power);
  for (const auto& [name, relative] : accuracy.bodies_power) add(name.c_str(), relative);
  add("coil power", accuracy.coil_power);
  add("inductance", accuracy.inductance);
  if (parts.empty()) parts = "not estimated";
  std::string text = fmt::format("Estimated error: {}; {} unknowns", parts, accuracy.unknowns);
  if (accuracy.nonlinear_iterations > 0)
    text += fmt::format(", {} steps for the steel", accuracy.nonlinear_iterations);
  if (!accuracy.method.empty()) text += fmt::format(" ({})", accuracy.method);
  return fmt::format("\n{}", wrapped(text + ".", {summary_columns, 2, 2}));
}

std::string state_text(const StateResult& state) {
  std::string text = state_title(state) + coil_rows(state) + circuit_rows(state) +
                     work_rows(state) + power_rows(state);
  const std::string verdict = match_verdict(state);
  if (!verdict.empty()) text += fmt::format("\n{}", wrapped(verdict, {summary_columns, 2, 2}));
  return text + accuracy_rows(state.accuracy);
}

/// Power in everything that the field heats except the coil [W].
double power_in_work(const PowerBalance& power) {
  double watts = power.workpiece.value_or(0.0);
  for (const auto& [name, body] : power.bodies) watts += body;
  return watts;
}

std::string poor_match_sentence(const PowerBalance& power, double reached) {
  const double elsewhere = 1.0 - reached - power.coil / power.total;
  const std::string circuit =
      elsewhere > 0.05 ? fmt::format(", {} in leads and circuit", percent(elsewhere)) : "";
  const char* advice = power.leads > power.coil
                           ? "Shorten the leads and lay them closer together."
                           : "Reduce the gap, or heat a part that loads the coil better (magnetic "
                             "steel, or a graphite cup round the charge).";
  return fmt::format(
      "Poor match: {} of the power is lost in the coil{} and {} reaches the work. {}",
      percent(power.coil / power.total), circuit, percent(reached), advice);
}

/// A sentence if bodies that need not be hot take more power than the work.
std::string misplaced_heat_sentence(const StateResult& state) {
  const double useful = *state.efficiency * state.power.total;
  double watts = power_in_work(state.power) - useful;
  std::string where = "other bodies";
  for (const auto& [name, power] : state.power.bodies)
    if (power > useful) std::tie(where, watts) = std::pair("the " + name, power);
  return fmt::format("Of the power, {} goes into the work and {} into {}, where it is lost.",
                     percent(*state.efficiency), percent(watts / state.power.total), where);
}

std::string limit_text(const Result& result) {
  std::string text;
  for (const auto& limit : result.limits) {
    if (limit.verdict == Verdict::ok) continue;
    text +=
        wrapped(fmt::format("{} {} ({}): {}. {}", limit.verdict == Verdict::stop ? "STOP" : "WATCH",
                            limit.part, limit.at_state, limit_words(limit), limit.advice),
                {summary_columns, 2, 4});
  }
  return text.empty() ? text : heading("Limits") + text;
}

std::string warning_text(const Result& result) {
  if (result.warnings.empty()) return "";
  std::string text = heading("Warnings");
  for (const auto& warning : merged_warnings(result))
    text += wrapped(fmt::format("- {}", warning), {summary_columns, 2, 4});
  return text;
}

/// Splits "State peak_demand: the supply stops" into "peak demand" and "the supply stops"; the
/// first is empty for a warning without a state.
std::pair<std::string, std::string> state_and_words(const std::string& warning) {
  constexpr std::string_view start = "State ";
  const std::size_t colon = warning.find(": ");
  if (!warning.starts_with(start) || colon == std::string::npos) return {"", warning};
  std::string name = warning.substr(start.size(), colon - start.size());
  std::ranges::replace(name, '_', ' ');
  return {name, warning.substr(colon + 2)};
}

/// The cautions that the design triggers, or the others.
std::string caution_text(const Result& result, bool triggered) {
  std::string text;
  for (const auto& caution : cautions(result))
    if (caution.triggered == triggered)
      text += wrapped(fmt::format("- {}", caution.brief), {summary_columns, 2, 4});
  if (text.empty()) return text;
  return heading(triggered ? "Cautions for this design" : "Cautions") + text;
}

/// The answer, what holds it back, what would help.
std::string verdict_text(const Result& result) {
  if (!result.verdict) return "";
  const JobVerdict& v = *result.verdict;
  std::string text = fmt::format("\n{}", wrapped(v.sentence, {summary_columns, 0, 2}));
  if (!v.why.empty()) text += wrapped(v.why, {summary_columns, 2, 2});
  if (!v.first_out.empty())
    text += wrapped(capitalised(v.first_out) + ".", {summary_columns, 2, 2});
  if (result.remedies.empty()) return text;
  text += heading("Remedies (solved)");
  for (const Remedy& remedy : result.remedies)
    text +=
        wrapped(fmt::format("- {}: {}.", remedy.change, remedy.outcome), {summary_columns, 2, 4});
  return text + wrapped(ratings_not_given, {summary_columns, 2, 2});
}

std::string match_text(const Result& result) {
  std::string text;
  for (const auto& state : result.states)
    if (const std::string verdict = match_verdict(state); !verdict.empty())
      text += fmt::format("\n{}", wrapped(fmt::format("State {}: {}", state.name, verdict),
                                          {summary_columns, 2, 2}));
  return text;
}

}  // namespace

std::string degrees(Temperature t) {
  return figure(t.in_celsius()) + " degC";
}

std::string summary_row(const std::string& label, const std::string& value,
                        const std::string& note) {
  std::string line = fmt::format("  {:<26} {:>12}", label, value);
  if (note.empty()) return line + "\n";
  if (line.size() + 2 + note.size() <= summary_columns) return fmt::format("{}  {}\n", line, note);
  return fmt::format("{}\n{}", line, wrapped(note, {summary_columns, 6, 6}));
}

std::vector<std::string> merged_warnings(const Result& result) {
  std::vector<std::pair<std::string, std::string>> told;  // states, words
  for (const std::string& warning : result.warnings) {
    const auto [state, words] = state_and_words(warning);
    const auto same = std::ranges::find(told, words, [](const auto& t) { return t.second; });
    if (state.empty() || same == told.end() || same->first.empty())
      told.emplace_back(state, words);
    else
      same->first += ", " + state;
  }
  std::vector<std::string> lines;
  for (const auto& [states, words] : told) {
    const bool several = states.find(',') != std::string::npos;
    lines.push_back(
        states.empty() ? words : fmt::format("State{} {}: {}", several ? "s" : "", states, words));
  }
  return lines;
}

std::string match_verdict(const StateResult& state) {
  if (!state.efficiency || state.power.total <= 0.0) return "";
  const double reached = power_in_work(state.power) / state.power.total;
  if (reached < poor_match) return poor_match_sentence(state.power, reached);
  if (*state.efficiency < poor_match && reached - *state.efficiency > *state.efficiency)
    return misplaced_heat_sentence(state);
  return "";
}

std::string summary(const Result& result) {
  // Warnings and cautions with a trigger precede the figures that they concern.
  std::string text = wrapped(result.title, {summary_columns, 0, 0}) + verdict_text(result) +
                     caution_text(result, true) + warning_text(result) + limit_text(result);
  if (result.states.size() == 1) text += state_text(result.states.front());
  if (result.states.size() > 1) text += state_table(result) + match_text(result);
  if (const std::string beyond = states_not_met(result); !beyond.empty())
    text += fmt::format("\n{}", wrapped(beyond, {summary_columns, 2, 2}));
  if (result.heat) text += heat_table(*result.heat);
  if (result.cooling) text += cooling_text(*result.cooling);
  if (result.exposure) text += exposure_text(*result.exposure);
  if (result.parts) text += parts_text(*result.parts);
  if (result.commissioning) text += commissioning_text(*result.commissioning);
  return text + caution_text(result, false);
}

}  // namespace cw
