#include <fmt/core.h>

#include <cmath>

#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/cautions.hpp"
#include "postproc/result/leading_state.hpp"
#include "postproc/text/limit_words.hpp"
#include "postproc/text/summary.hpp"

namespace cw {

namespace {

std::string paragraph(const char* kind, const std::string& text) {
  return fmt::format("<p class=\"{}\">{}</p>\n", kind, text);
}

/// "1.54 kW of it (91.5 %) heats the workpiece"
std::string use_of_power(const StateResult& state) {
  if (!state.efficiency) return "there is no workpiece to heat";
  const double useful = *state.efficiency * state.power.total;
  const bool workpiece = state.power.workpiece &&
                         std::abs(useful - *state.power.workpiece) <= 1e-6 * state.power.total;
  return fmt::format("{} of it ({}) {}", shown(useful, "W"), shown_percent(*state.efficiency),
                     workpiece ? "heats the workpiece" : "heats the work");
}

std::string what_it_does(const StateResult& state, bool among_others) {
  return paragraph(
      "lead", fmt::format("{}t {} and {} rms in the coil the power is {}: {}.",
                          among_others ? capitalised(state_words(state.name)) + ": a" : "A",
                          shown(state.frequency.hertz, "Hz"), shown(state.drive.current_rms, "A"),
                          shown(state.power.total, "W"), use_of_power(state)));
}

/// Whether the target is reached, what holds it back, what would help.
std::string heat_verdict(const Result& result) {
  if (!result.verdict) return "";
  const JobVerdict& v = *result.verdict;
  const bool yes = v.answer == Answer::yes || v.answer == Answer::at_supply_limit;
  std::string text = paragraph(yes ? "lead" : "lead no", shown_sentence(v.sentence));
  if (!v.why.empty()) text += paragraph("quiet", shown_sentence(v.why));
  if (!v.first_out.empty())
    text += paragraph("quiet", shown_sentence(capitalised(v.first_out) + "."));
  std::string steps;
  for (const Remedy& remedy : result.remedies)
    steps += fmt::format("<li><strong>{}</strong>: {}</li>\n", escaped(capitalised(remedy.change)),
                         shown_sentence(remedy.outcome + "."));
  return steps.empty() ? text
                       : text +
                             fmt::format(
                                 "<h3>Remedies: each was solved, with its heating run</h3>\n<ul "
                                 "class=\"notes\">\n{}</ul>\n",
                                 steps) +
                             paragraph("quiet", ratings_not_given);
}

/// " at 88.0 % of its limit"; of a minimum value and limit, since a share of it misleads:
/// ": loaded Q 4.24, at least 3.00".
std::string nearness_to(const LimitResult& limit) {
  if (!limit.fraction) return "";
  if (limit_quantity(limit.quantity).at_least) return ": " + shown_sentence(limit_words(limit));
  return " at " + shown_percent(*limit.fraction) + " of its limit";
}

/// The limits that are exceeded or nearly so, the worst first.
std::string limit_verdict(const Result& result) {
  if (result.limits.empty()) {
    return paragraph("quiet",
                     "No ratings of parts were given, so capacitors, switches, tube and supply are "
                     "not checked against limits.");
  }
  std::string text;
  for (const Verdict wanted : {Verdict::stop, Verdict::watch}) {
    for (const auto& limit : result.limits) {
      if (limit.verdict != wanted) continue;
      const bool stop = wanted == Verdict::stop;
      text += fmt::format("<li class=\"{}\"><strong>{}</strong> {}{} ({}). {}</li>\n",
                          stop ? "stop" : "watch", stop ? "Stop:" : "Watch:", escaped(limit.part),
                          nearness_to(limit), state_words(limit.at_state),
                          shown_sentence(limit.advice));
    }
  }
  if (text.empty()) return paragraph("quiet", "Every limit is kept.");
  return fmt::format("<ul class=\"notes\">\n{}</ul>\n", text);
}

/// A warning in the words of the page: states by their names.
std::string spoken(std::string text, const Result& result) {
  for (const StateResult& state : result.states) {
    const std::string from = "State " + state.name + ":",
                      to = "State " + plain_state(state.name) + ":";
    if (text.starts_with(from)) text.replace(0, from.size(), to);
  }
  return shown_sentence(text);
}

/// What the run cannot tell without heating.
std::string without_heating(const Result& result) {
  if (!result.heater || !result.heater->heat || !result.heater->heat->target) return "";
  std::string text = fmt::format("The time to {} is not part of this result",
                                 shown_celsius(*result.heater->heat->target));
  for (const StateResult& state : result.states)
    if (state.name == "at_target" && state.power.workpiece)
      text += fmt::format("; there {} go into the workpiece", shown(*state.power.workpiece, "W"));
  return paragraph("lead", text + ".");
}

/// The answer without a heating run: total power and how much of it is useful.
std::string without_run(const Result& result) {
  std::string text = without_heating(result);
  const StateResult* state = leading_state(result);
  if (state == nullptr) return text;
  text += what_it_does(*state, result.states.size() > 1);
  const std::string match = match_verdict(*state);
  return match.empty() ? text : text + paragraph("match", escaped(match));
}

/// Links to the sections behind the answer.
std::string onward(const Result& result) {
  std::string links;
  const auto add = [&](bool there, const char* id, const std::string& words) {
    if (there)
      links += fmt::format("{}<a href=\"#{}\">{}</a>", links.empty() ? "" : " \u00b7 ", id, words);
  };
  add(result.heat.has_value(), "heat", "How it heats");
  add(!result.limits.empty(), "limits", "All limits");
  add(!result.warnings.empty(), "warnings", "Where the model is less accurate");
  add(!result.states.empty(), "accuracy", "How sure");
  return links.empty() ? "" : paragraph("onward", links);
}

std::string brief_lines(const std::vector<Caution>& all, bool triggered_only) {
  std::string lines;
  for (std::size_t i = 1; i < all.size(); ++i)
    if (all[i].triggered || !triggered_only)
      lines += fmt::format("<li>{}</li>\n", shown_sentence(all[i].brief));
  return lines.empty() ? "" : fmt::format("<ul class=\"brief\">\n{}</ul>\n", lines);
}

std::string plan(const std::vector<Caution>& all) {
  return fmt::format("<p class=\"plan\">{} <a href=\"#cautions\">All cautions in full</a></p>\n",
                     escaped(all.front().text));
}

}  // namespace

std::string before_switching_on(const Result& result) {
  const std::vector<Caution> all = cautions(result);
  return "<h3>Before you switch on</h3>\n" + plan(all) + brief_lines(all, false);
}

PageSection care_section(const Result& result) {
  const std::vector<Caution> all = cautions(result);
  return {"care", "Cautions for this design", brief_lines(all, true) + plan(all)};
}

PageSection warnings_section(const Result& result) {
  std::string text;
  for (const auto& warning : result.warnings)
    text += fmt::format("<li>{}</li>\n", spoken(warning, result));
  if (text.empty()) return {};
  return {"warnings", "Where the model is less accurate",
          fmt::format("<ul class=\"notes\">\n{}</ul>\n", text)};
}

PageSection verdict_section(const Result& result) {
  return {"verdict", "Will it do the job?",
          (result.heat ? heat_verdict(result) : without_run(result)) + limit_verdict(result) +
              onward(result)};
}

}  // namespace cw
