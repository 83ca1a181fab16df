#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "postproc/report/report_markup.hpp"
#include "postproc/report/sweep_figures.hpp"
#include "postproc/report/sweep_page.hpp"
#include "postproc/text/design_table.hpp"
#include "postproc/text/next_steps.hpp"

namespace cw {

namespace {

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

/// What a design misses; follows "it".
std::string missed_words(const DesignLine& line) {
  std::string words;
  for (const std::string& broken : line.broken) words += (words.empty() ? "" : "; ") + broken;
  return line.misses_target_alone() ? words : "breaks " + words;
}

std::string lead(const DesignsFile& designs) {
  const DesignSheet& sheet = designs.sheet;
  const bool kept = !sheet.best.empty();
  if (!kept && sheet.breaking.empty())
    return "<p class=\"lead\">None of the designs could be ranked.</p>\n";
  const DesignLine& first = kept ? sheet.best.front() : sheet.breaking.front();
  std::string value;
  if (first.value && !sheet.rank.empty()) {
    const SweepFigure figure = sweep_figure(sheet.rank);
    value = fmt::format(": {}, {}", escaped(figure.name),
                        shown_figure(figure, figure.scale * *first.value + figure.offset));
  }
  const std::size_t level = tied_designs(sheet) > 1 ? tied_designs(sheet) - 1 : 0;
  if (!kept)
    return fmt::format("<p class=\"lead\">{}: {}. It {}.</p>\n",
                       first.misses_target_alone()
                           ? "No design reaches the target within every limit. Nearest"
                           : "No design keeps every limit. Nearest to keeping all",
                       shown_design(sheet, first), shown_sentence(missed_words(first)));
  return fmt::format("<p class=\"lead\">{}{}{}.</p>\n",
                     level > 0 ? "Equal at the top: " : "Best: ", shown_design(sheet, first),
                     value) +
         (level > 0 ? fmt::format("<p>{} within 0.5\u00a0% of it, less than the accuracy of a "
                                  "sweep: take the one that is easiest to build.</p>\n",
                                  counted(level, "other design lies", "other designs lie"))
                    : "");
}

/// How many designs were solved, ranked and refused, in one sentence.
std::string counts(const DesignSheet& sheet) {
  const auto near = static_cast<std::size_t>(
      std::ranges::count_if(sheet.breaking, &DesignLine::misses_target_alone));
  std::string text = fmt::format(
      "Of {} {} every limit{}", counted(sheet.planned, "design", "designs"),
      counted(sheet.best.size(), "keeps", "keep"), near > 0 ? " and reach the target" : "");
  const auto say = [&](std::size_t count, const char* one, const char* many) {
    if (count > 0) text += ", " + counted(count, one, many);
  };
  say(near, "keeps every limit and misses the target", "keep every limit and miss the target");
  say(sheet.breaking.size() - near, "breaks one", "break one");
  say(sheet.unranked, "lacks the figure to rank by", "lack the figure to rank by");
  say(sheet.set_aside, "was stopped early as slower", "were stopped early as slower");
  say(sheet.invalid, "cannot be built", "cannot be built");
  say(sheet.failed, "could not be solved", "could not be solved");
  say(sheet.crashed, "was lost; the next run solves it again",
      "were lost; the next run solves them again");
  return fmt::format("<p>{}.{}</p>\n", text,
                     sheet.rank.empty() ? std::string(" They are listed in the order tried.")
                                        : fmt::format(" Ranked by {}, {} first.",
                                                      escaped(sweep_figure(sheet.rank).name),
                                                      sheet.largest ? "largest" : "smallest"));
}

std::string why(const DesignSheet& sheet) {
  std::string text;
  for (const std::string& sentence : shortlist_reasons(sheet, 3))
    text += fmt::format("<li>{}</li>\n", shown_sentence(capitalised(sentence)));
  return text.empty()
             ? ""
             : fmt::format(
                   "<h3>Why, with one key changed at a time</h3>\n<ol class=\"steps\">\n{}</ol>\n",
                   text);
}

/// Which keys to widen, in which direction.
std::string further(const DesignSheet& sheet) {
  std::string text;
  for (const std::string& step : next_steps(sheet))
    text += fmt::format("<li>{}</li>\n", shown_sentence(step));
  return text;
}

/// Which limits exclude the others, the most frequent first.
std::string hindrances(const DesignSheet& sheet) {
  std::map<std::string, std::size_t> counts;
  for (const DesignLine& line : sheet.breaking)
    for (const std::string& broken : line.broken)
      ++counts[broken.starts_with("misses the target")
                   ? "target"
                   : broken.substr(0, std::min(broken.find(" at "), broken.find(" is ")))];
  std::vector<std::pair<std::string, std::size_t>> order(counts.begin(), counts.end());
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  std::string text;
  for (const auto& [what, count] : order)
    text += fmt::format("<li>{}: limit exceeded by {}.</li>\n", escaped(capitalised(what)),
                        counted(count, "design", "designs"));
  return text;
}

/// The limits of the best design that are broken or nearly so.
std::string of_the_best(const Result& result) {
  std::string text;
  for (const LimitResult& limit : result.limits)
    if (limit.verdict != Verdict::ok)
      text += fmt::format(
          "<li class=\"{0}\"><strong>Best design, {0}:</strong> {1}{2} ({3}). {4}</li>\n",
          limit.verdict == Verdict::stop ? "stop" : "watch", escaped(limit.part),
          limit.fraction ? " at " + shown_percent(*limit.fraction) + " of its limit" : "",
          state_words(limit.at_state), shown_sentence(limit.advice));
  return text;
}

}  // namespace

PageSection sweep_verdict_section(const DesignsFile& designs) {
  const DesignSheet& sheet = designs.sheet;
  std::string text = lead(designs) + counts(sheet) + why(sheet);
  const std::string change = of_the_best(designs.leading) + further(sheet) + hindrances(sheet);
  if (!change.empty())
    text += fmt::format("<h3>What to change</h3>\n<ul class=\"notes\">\n{}</ul>\n", change);
  return {"verdict", "Verdict", text + before_switching_on(designs.leading)};
}

}  // namespace cw
