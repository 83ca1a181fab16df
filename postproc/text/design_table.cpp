#include "postproc/text/design_table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/text/next_steps.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

constexpr Layout flush_left{80, 0, 0}, indented{80, 2, 4};
constexpr std::size_t widest_value = 16, most_axes = 3;

std::string cell(const std::optional<double>& value, double factor = 1.0) {
  return value ? figure(factor * *value) : "-";
}

/// Printed width of each axis shown.
std::vector<std::size_t> widths(const DesignSheet& sheet) {
  std::vector<std::size_t> all;
  for (std::size_t k = 0; k < std::min(most_axes, sheet.keys.size()); ++k) {
    std::size_t width = short_label(sheet.keys[k]).size();
    for (const std::string& value : sheet.axes[k]) width = std::max(width, value.size());
    all.push_back(std::min(width, widest_value));
  }
  return all;
}

std::string line_limit_words(const DesignLine& line) {
  if (!line.fraction) return "no rating given";
  return fmt::format("{} {:.0f} %", line.part, 100 * *line.fraction);
}

/// The value by which a design is ranked; for those that miss the target, the difference in kelvin.
std::string ranked_by(const DesignSheet& sheet, const DesignLine& line) {
  return cell(sheet.best.empty() ? line.shortfall : line.value);
}

std::string table_line(const DesignSheet& sheet, const std::vector<std::size_t>& width,
                       const DesignLine& line, std::size_t place) {
  std::string text = fmt::format("{:>4}", place);
  for (std::size_t k = 0; k < width.size(); ++k)
    text += fmt::format("  {:>{}.{}}", line.values[k], width[k], width[k]);
  if (!sheet.rank.empty()) text += fmt::format("{:>10}", ranked_by(sheet, line));
  text += fmt::format("{:>9}{:>8}  ", cell(line.work), cell(line.efficiency, 100));
  const std::size_t room = 80 - std::min<std::size_t>(79, text.size());
  return text + fmt::format("{:.{}}\n", line_limit_words(line), room);
}

std::string head(const DesignSheet& sheet, const std::vector<std::size_t>& width) {
  std::string text = fmt::format("{:>4}", "");
  for (std::size_t k = 0; k < width.size(); ++k)
    text += fmt::format("  {:>{}.{}}", short_label(sheet.keys[k]), width[k], width[k]);
  if (!sheet.rank.empty())
    text += fmt::format("{:>10}", sheet.best.empty() ? "short, K" : "ranked by");
  return text + fmt::format("{:>9}{:>8}  {}\n", "work, W", "effic.%", "nearest limit");
}

/// A design in words: "8 turns, pitch 7.5 mm".
std::string named(const DesignSheet& sheet, const DesignLine& line) {
  std::string text;
  for (std::size_t k = 0; k < sheet.keys.size(); ++k)
    text += fmt::format("{}{}", k > 0 ? ", " : "", setting_words(sheet.keys[k], line.values[k]));
  return text;
}

/// "12 % more than", "8 % faster than", "the same as", depending on the key; `a` compared with `b`.
std::string comparison(const DesignSheet& sheet, double a, double b) {
  const bool time = sheet.rank.ends_with("_s");
  const double change = 100 * std::abs(a / b - 1);
  if (change < 0.05) return "the same as";
  const char* way = a > b ? (time ? "slower" : "more") : (time ? "faster" : "less");
  return fmt::format("{} % {} than", figure(change), way);
}

/// The design that differs from `line` only in having `value` for key `k`.
const DesignLine* with(const std::vector<DesignLine>& lines, const DesignLine& line, std::size_t k,
                       const std::string& value) {
  const auto found = std::find_if(lines.begin(), lines.end(), [&](const DesignLine& other) {
    auto wanted = line.values;
    wanted[k] = value;
    return other.values == wanted;
  });
  return found == lines.end() ? nullptr : &*found;
}

/// The effect of the step to one neighbour; empty if there is none.
std::string step_words(const DesignSheet& sheet, const DesignLine& line, std::size_t k,
                       const std::string& value) {
  const std::string name = setting_words(sheet.keys[k], value);
  if (const DesignLine* kept = with(sheet.best, line, k, value); kept && kept->value && line.value)
    return fmt::format("{} with {}", comparison(sheet, *line.value, *kept->value), name);
  if (const DesignLine* other = with(sheet.breaking, line, k, value))
    return fmt::format("{} would exceed a limit ({})", name, other->broken.front());
  return {};
}

std::string reason(const DesignSheet& sheet, const DesignLine& line) {
  std::string text = named(sheet, line);
  if (line.value) text += fmt::format(": {}", key_value(sheet.rank, *line.value));
  std::vector<std::string> steps;
  for (std::size_t k = 0; k < sheet.keys.size(); ++k) {
    const auto& axis = sheet.axes[k];
    const auto here = std::find(axis.begin(), axis.end(), line.values[k]);
    if (here == axis.end()) continue;
    if (here != axis.begin()) steps.push_back(step_words(sheet, line, k, *(here - 1)));
    if (here + 1 != axis.end()) steps.push_back(step_words(sheet, line, k, *(here + 1)));
  }
  std::erase(steps, "");
  for (const std::string& step : steps) text += fmt::format("; {}", step);
  if (line.fraction)
    text += fmt::format("; {} at {:.0f} % of its limit", line.part, 100 * *line.fraction);
  return text + ".";
}

/// Number of designs that keep every limit and miss the target; they are first among those that
/// miss something.
std::size_t near_misses(const DesignSheet& sheet) {
  return static_cast<std::size_t>(
      std::ranges::count_if(sheet.breaking, &DesignLine::misses_target_alone));
}

/// The finding of the sweep, before its table.
std::string finding(const DesignSheet& sheet) {
  const std::size_t missing = near_misses(sheet);
  if (sheet.best.empty() && missing > 0)
    return fmt::format(
        "No design reaches the target within every limit. {} {} every limit; the nearest {}: {}.",
        missing, missing == 1 ? "keeps" : "keep", sheet.breaking.front().broken[0],
        named(sheet, sheet.breaking.front()));
  if (sheet.best.empty()) return "No design keeps every limit.";
  const std::size_t tied = tied_designs(sheet);
  if (sheet.rank.empty() || tied < 2) return "";
  return fmt::format(
      "Places 1 to {} lie within 0.5 %, less than the accuracy of the figures: choose among them "
      "by their margins.",
      tied);
}

std::string bulleted(const char* heading, const std::vector<std::string>& sentences) {
  std::string text = sentences.empty() ? "" : fmt::format("\n{}\n", heading);
  for (const std::string& sentence : sentences)
    text += wrapped(fmt::format("- {}", sentence), indented);
  return text;
}

std::string table(const DesignSheet& sheet, std::size_t lines) {
  const std::vector<DesignLine>& all = sheet.best.empty() ? sheet.breaking : sheet.best;
  if (all.empty()) return "";
  const auto width = widths(sheet);
  std::string text = fmt::format("\n{}", head(sheet, width));
  for (std::size_t k = 0; k < std::min(lines, all.size()); ++k)
    text += table_line(sheet, width, all[k], k + 1);
  if (all.size() > lines)
    text += fmt::format("      and {} more in tables/designs.csv\n", all.size() - lines);
  return text;
}

std::string leftovers(const DesignSheet& sheet) {
  std::string text;
  const auto say = [&](std::size_t count, const std::string& what) {
    if (count > 0) text += wrapped(fmt::format("{} {}", count, what), indented);
  };
  const std::size_t missing = near_misses(sheet), breaking = sheet.breaking.size() - missing;
  const auto nearest = [&](std::size_t k) {
    return fmt::format("(place {}): {} ({})", sheet.best.size() + k + 1,
                       named(sheet, sheet.breaking[k]), fmt::join(sheet.breaking[k].broken, ", "));
  };
  if (!sheet.best.empty() && missing > 0)
    say(missing, (missing == 1 ? "keeps every limit and misses the target "
                               : "keep every limit and miss the target; the nearest to it ") +
                     nearest(0));
  if (breaking > 0)
    say(breaking,
        (breaking == 1 ? "exceeds a limit " : "exceed a limit; the one nearest to keeping all ") +
            nearest(missing));
  say(sheet.unranked, "solved, but without the key to rank by");
  say(sheet.set_aside, "stopped early: slower than the best designs");
  say(sheet.invalid, "cannot be built");
  say(sheet.failed, "could not be solved");
  say(sheet.crashed, "lost; the next run solves them again");
  if (!sheet.first_reason.empty())
    text += wrapped(fmt::format("The first of those not solved: {}", sheet.first_reason), indented);
  return text.empty() ? ""
                      : fmt::format("\n{}\n{}",
                                    sheet.best.empty() ? "The others" : "Not in the ranking", text);
}

}  // namespace

std::vector<std::string> shortlist_reasons(const DesignSheet& sheet, std::size_t count) {
  std::vector<std::string> reasons;
  for (std::size_t k = 0; k < std::min(count, sheet.best.size()); ++k)
    reasons.push_back(reason(sheet, sheet.best[k]));
  return reasons;
}

std::string design_text(const DesignSheet& sheet, std::size_t lines) {
  std::string text = wrapped(sheet.title, flush_left);
  text += wrapped(sheet.rank.empty()
                      ? fmt::format("{} designs, in the order tried", sheet.planned)
                      : fmt::format("{} designs, ranked by {}, {} first", sheet.planned,
                                    key_label(sheet.rank), sheet.largest ? "largest" : "smallest"),
                  flush_left);
  if (const std::string found = finding(sheet); !found.empty())
    text += fmt::format("\n{}", wrapped(found, flush_left));
  text += table(sheet, lines);
  if (!sheet.rank.empty())
    text += bulleted("Why, with one key changed at a time", shortlist_reasons(sheet, 3));
  text += bulleted("Next", next_steps(sheet));
  return text + leftovers(sheet);
}

}  // namespace cw
