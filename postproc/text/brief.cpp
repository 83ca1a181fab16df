#include "postproc/text/brief.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"
#include "postproc/result/cautions.hpp"
#include "postproc/result/leading_state.hpp"
#include "postproc/text/limit_words.hpp"
#include "postproc/text/summary.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

constexpr std::size_t terminal_columns = 80;

std::size_t line_count(const std::string& text) {
  return static_cast<std::size_t>(std::ranges::count(text, '\n'));
}

/// The first `most` lines of the text, in whole lines; the last ends in "..." if some were left
/// out.
std::string some_lines(const std::string& text, std::size_t most) {
  if (line_count(text) <= most) return text;
  std::size_t end = 0;
  for (std::size_t k = 0; k < most; ++k) end = text.find('\n', end) + 1;
  const std::size_t start = most > 1 ? text.rfind('\n', end - 2) + 1 : 0;
  return text.substr(0, start) +
         cut_line(text.substr(start, end - 1 - start) + " ...", terminal_columns) + "\n";
}

std::string indented_lines(const std::string& text, std::size_t most) {
  return some_lines(wrapped(text, {terminal_columns, 2, 4}), most);
}

/// "1.07 kW of it (88.3 %) heats the workpiece"
std::string use_of_it(const StateResult& state) {
  if (!state.efficiency) return "there is no workpiece to heat";
  const double useful = *state.efficiency * state.power.total;
  const bool workpiece = state.power.workpiece &&
                         std::abs(useful - *state.power.workpiece) <= 1e-6 * state.power.total;
  return fmt::format("{} of it ({}) {}", figure(useful, "W"), percent(*state.efficiency),
                     workpiece ? "heats the workpiece" : "heats the work");
}

std::string state_name(std::string name) {
  std::ranges::replace(name, '_', ' ');
  return capitalised(name);
}

/// Where the power of a state goes, in the words of the page.
std::string power_sentence(const StateResult& state, bool among_others) {
  return fmt::format("{}t {} and {} rms in the coil the power is {}: {}.",
                     among_others ? state_name(state.name) + ": a" : "A",
                     figure(state.frequency.hertz, "Hz"), figure(state.drive.current_rms, "A"),
                     figure(state.power.total, "W"), use_of_it(state));
}

/// What holds the job back; without a target, whether the match is poor.
std::string held_back_by(const Result& result) {
  if (result.verdict) return result.verdict->why;
  const StateResult* state = leading_state(result);
  return state == nullptr ? "" : match_verdict(*state);
}

Tone tone_of(const Result& result) {
  if (!result.verdict) return Tone::plain;
  switch (result.verdict->answer) {
    case Answer::yes:
      return Tone::good;
    case Answer::no:
      return Tone::bad;
    case Answer::at_supply_limit:
    case Answer::past_limits:
    case Answer::unknown:
      break;
  }
  return Tone::doubtful;
}

/// The limit that gives out first: the one that the verdict names, else the first of all.
const LimitResult* first_limit(const Result& result) {
  const auto found = std::ranges::find_if(result.limits, [&](const LimitResult& limit) {
    return limit.fraction &&
           (!result.verdict || result.verdict->first_out.ends_with(": " + limit.part));
  });
  return found == result.limits.end() ? nullptr : &*found;
}

/// Whether a limit is that of a part; limits that concern starting or switching of the drive are
/// not.
bool is_of_a_part(const LimitResult& limit) {
  return limit.quantity != "loaded_q" && limit.quantity != "hottest_K" &&
         limit.quantity != "gate_time_over_half_period";
}

/// "Current 9.53 A rms, limit 8.74 A (cold). Use more cans."
std::string limit_and_advice(const LimitResult& limit) {
  std::string words = limit_words(limit);
  if (!is_of_a_part(limit)) words = fmt::format("{}: {}", limit.part, words);
  std::string state = limit.at_state;
  std::ranges::replace(state, '_', ' ');
  const std::string where = state == "fixed frequency" ? "" : fmt::format(" ({})", state);
  return fmt::format("{}{}. {}", capitalised(words), where, limit.advice);
}

/// The part nearest to its limit, if no verdict names it.
std::string nearest_to_its_limit(const LimitResult& limit) {
  constexpr double worth_a_word = 0.5;
  if (!is_of_a_part(limit)) return "";
  if (*limit.fraction < worth_a_word) return "Every part stays below half of its limit.";
  return fmt::format("Most loaded part, at {} of its limit: {}.", percent(*limit.fraction),
                     limit.part);
}

std::string first_out_text(const Result& result) {
  const LimitResult* limit = first_limit(result);
  std::string words;
  if (result.verdict && !result.verdict->first_out.empty())
    words = capitalised(result.verdict->first_out) + ".";
  else if (!result.verdict && limit != nullptr)
    words = nearest_to_its_limit(*limit);
  else
    words = "No ratings of parts were given, so no part is checked against a limit.";
  const std::string text = indented_lines(words, 2);
  const bool near = limit != nullptr && limit->verdict != Verdict::ok;
  return near ? text + indented_lines(limit_and_advice(*limit), 3) : text;
}

/// The first caution that this design triggers, that for hot work, and the standing line.
std::string care_text(const Result& result) {
  std::string text;
  std::size_t told = 0;
  constexpr std::size_t most = 2;
  const auto tell = [&](const Caution& caution) {
    if (told++ < most) text += indented_lines(caution.brief, 2);
  };
  const std::vector<Caution> all = cautions(result);
  const auto first = std::ranges::find_if(all, &Caution::triggered);
  if (first != all.end()) tell(*first);
  const auto burns = std::ranges::find(all, "burns", &Caution::id);
  const auto next =
      first == all.end() ? first : std::ranges::find_if(first + 1, all.end(), &Caution::triggered);
  if (burns != all.end())
    tell(*burns);
  else if (next != all.end())
    tell(*next);
  return text + wrapped(standing_line(), {terminal_columns, 2, 4});
}

std::string help_text(const Result& result, const std::string& remedy) {
  if (result.remedies.empty()) return "";
  const Remedy& best = result.remedies.front();
  const std::string file = remedy.empty() ? " Write it into the case by hand."
                                          : fmt::format(" The case with it: {}.", remedy);
  return indented_lines(
      fmt::format("Best remedy (solved): {}: {}.{}", best.change, best.outcome, file), 3);
}

std::string warnings_text(const Result& result) {
  const std::size_t count = merged_warnings(result).size();
  if (count == 0) return "";
  return count == 1 ? "  1 warning concerns these figures: see the page, or --full.\n"
                    : fmt::format("  {} warnings concern these figures: see the page, or --full.\n",
                                  count);
}

}  // namespace

std::string brief_verdict(const Result& result) {
  if (result.verdict) return result.verdict->sentence;
  const StateResult* state = leading_state(result);
  return state == nullptr ? "" : power_sentence(*state, result.states.size() > 1);
}

BriefSummary brief(const Result& result, const std::string& remedy, std::size_t most) {
  BriefSummary summary;
  summary.tone = tone_of(result);
  summary.title = some_lines(wrapped(result.title, {terminal_columns, 0, 0}), 1);
  summary.verdict = some_lines(wrapped(brief_verdict(result), {terminal_columns, 0, 2}), 3);
  const std::string head =
      indented_lines(held_back_by(result), 3) + first_out_text(result) + help_text(result, remedy);
  const std::string tail = warnings_text(result) + "\n" + care_text(result);
  const std::size_t used = line_count(summary.title) + line_count(summary.verdict) +
                           line_count(head) + line_count(tail) + 1;
  std::string figures;
  std::size_t room = used < most ? most - used : 0;
  for (const std::string& line : brief_figures(result)) {
    if (room == 0) break;
    figures += line + "\n";
    --room;
  }
  summary.rest = head + (figures.empty() ? "" : "\n" + figures) + tail;
  return summary;
}

}  // namespace cw
