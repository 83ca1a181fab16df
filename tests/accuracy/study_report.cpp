#include "tests/accuracy/study_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <regex>
#include <vector>

#include "tests/accuracy/comparison.hpp"

namespace cw::accuracy {

namespace {

/// The value that `share` of the list does not exceed; 0 of an empty list.
double quantile(std::vector<double> values, double share) {
  if (values.empty()) return 0;
  std::ranges::sort(values);
  const auto at = static_cast<std::size_t>(share * static_cast<double>(values.size()));
  return values[std::min(at, values.size() - 1)];
}

std::string percent(std::size_t part, std::size_t of) {
  if (of == 0) return "-";
  return fmt::format("{:.1f} %", 100.0 * static_cast<double>(part) / static_cast<double>(of));
}

/// Differences of one quantity, or of all.
struct Spread {
  std::size_t met = 0, stated = 0, covered = 0;
  std::vector<double> off, ratio;

  void add(const Difference& d, double allowed) {
    off.push_back(d.off);
    if (d.off <= allowed) ++met;
    if (!d.estimate) return;
    ++stated;
    if (d.covered()) ++covered;
    if (d.off > 0) ratio.push_back(*d.estimate / d.off);
  }
  [[nodiscard]] std::string text() const {
    return fmt::format("{:>8} {:>8} {:>9} {:>9} {:>9.1e} {:>9.1e} {:>9.1e} {:>8.2f} {:>8.1f}",
                       off.size(), stated, percent(met, off.size()), percent(covered, stated),
                       quantile(off, 0.5), quantile(off, 0.95), quantile(off, 1),
                       quantile(ratio, 0.5), quantile(ratio, 0.95));
  }
};

constexpr const char* spread_heading =
    "  values   stated  contract   covered  off: median  95 %   largest  estimate/off: median 95 %";

/// Cases of one class.
struct Tally {
  std::size_t accepted = 0, solved = 0, compared = 0, met = 0, stated = 0, covered = 0;
  std::vector<double> unknowns, seconds, ratio;

  void add(const ComparedCase& c, double allowed) {
    if (c.row.outcome == Outcome::refused) return;
    ++accepted;
    if (!c.solved()) return;
    ++solved;
    unknowns.push_back(c.row.unknowns);
    seconds.push_back(c.row.seconds);
    if (c.differences.empty()) return;
    ++compared;
    if (c.worst() <= allowed) ++met;
    Spread all;
    for (const Difference& d : c.differences) all.add(d, allowed);
    stated += all.stated;
    covered += all.covered;
    ratio.insert(ratio.end(), all.ratio.begin(), all.ratio.end());
  }
  [[nodiscard]] std::string text() const {
    return fmt::format(
        "{:>6} {:>8} {:>9} {:>8} {:>7.2f} {:>7.1f} {:>9.0f} {:>9.0f} {:>7.2f} {:>7.2f}", accepted,
        percent(solved, accepted), percent(met, compared), percent(covered, stated),
        quantile(ratio, 0.5), quantile(ratio, 0.95), quantile(unknowns, 0.5), quantile(unknowns, 1),
        quantile(seconds, 0.5), quantile(seconds, 0.95));
  }
};

constexpr const char* tally_heading =
    " cases   solved  contract  covered  est/off    95 %  unknowns   largest  time s    95 %";

/// A way to sort cases into classes.
struct Sorting {
  const char* name;
  std::string Classes::*by;
};
const std::array<Sorting, 7> sortings{{{"workpiece", &Classes::work},
                                       {"coil", &Classes::coil},
                                       {"conductor", &Classes::conductor},
                                       {"magnetism", &Classes::magnetic},
                                       {"thickness over skin depth", &Classes::skin},
                                       {"bodies", &Classes::bodies},
                                       {"drive", &Classes::drive}}};

std::string class_tables(const Comparison& all, double allowed) {
  std::string text;
  for (const Sorting& sorting : sortings) {
    std::map<std::string, Tally> tallies;
    for (const ComparedCase& c : all.cases) tallies[c.drawn.classes.*sorting.by].add(c, allowed);
    text += fmt::format("\n{:<26}{}\n", sorting.name, tally_heading);
    for (const auto& [name, tally] : tallies)
      text += fmt::format("  {:<24}{}\n", name, tally.text());
  }
  return text;
}

std::string quantity_table(const Comparison& all, double allowed) {
  std::map<std::string, Spread> spreads;
  for (const ComparedCase& c : all.cases)
    for (const Difference& d : c.differences) spreads[d.quantity].add(d, allowed);
  std::string text = fmt::format("\n{:<12}{}\n", "quantity", spread_heading);
  for (const auto& [name, spread] : spreads) text += fmt::format("{:<12}{}\n", name, spread.text());
  return text;
}

std::string overview(const Comparison& all, double allowed) {
  Tally tally;
  std::size_t references = 0, short_of_it = 0;
  std::vector<double> seconds;
  for (const ComparedCase& c : all.cases) {
    tally.add(c, allowed);
    if (!c.reference) continue;
    if (c.reference->outcome == Outcome::solved && c.reached) ++references;
    if (!c.reached) ++short_of_it;
    seconds.push_back(c.reference->seconds);
  }
  return fmt::format(
      "{} cases, {} refused by check, {} accepted; solved {} ({}); {} with a reference (median "
      "{:.2f} s, 95 % {:.2f} s), {} references not reached\ncontract: every figure of a case "
      "within {:.2g} %\n\n{:<26}{}\n"
      "{:<26}{}\n",
      all.cases.size(), all.cases.size() - tally.accepted, tally.accepted, tally.solved,
      percent(tally.solved, tally.accepted), references, quantile(seconds, 0.5),
      quantile(seconds, 0.95), short_of_it, 100 * allowed, "", tally_heading, "all", tally.text());
}

/// A message without its place, with # for numbers and names, so that similar messages are equal.
std::string class_of_message(const std::string& message) {
  static const std::regex place("case\\.toml:[0-9]+:[0-9]+: "), number("[-+]?[0-9][0-9.e+-]*"),
      name("([ =])'[^']*'");
  std::string text = std::regex_replace(message.substr(0, message.find("; allowed")), place, "");
  return std::regex_replace(std::regex_replace(text, name, "$1#"), number, "#");
}

/// Every distinct message of an outcome, how often it occurred, and some seeds.
std::string messages(const std::vector<Row>& rows, std::size_t seeds) {
  std::map<std::string, std::vector<std::uint64_t>> of;
  for (const Row& row : rows) of[class_of_message(row.message)].push_back(row.seed);
  std::string text;
  for (const auto& [message, list] : of) {
    text += fmt::format("  {:>4}  {}\n        seeds", list.size(), message);
    for (std::size_t i = 0; i < std::min(list.size(), seeds); ++i)
      text += fmt::format(" {}", list[i]);
    text += list.size() > seeds ? " ...\n" : "\n";
  }
  return text.empty() ? "  none\n" : text;
}

std::string what_went_wrong(const Comparison& all) {
  std::vector<Row> refused, failed, references;
  for (const ComparedCase& c : all.cases) {
    if (c.row.outcome == Outcome::refused) refused.push_back(c.row);
    if (c.row.outcome == Outcome::failed) failed.push_back(c.row);
    if (c.reference && c.reference->outcome != Outcome::solved) references.push_back(*c.reference);
  }
  return fmt::format("\nfailed:\n{}\nreference failed:\n{}\nrefused by check:\n{}",
                     messages(failed, 12), messages(references, 12), messages(refused, 3));
}

/// The first twenty of some cases, with every figure.
std::string list(const std::vector<const ComparedCase*>& cases) {
  std::string text;
  for (std::size_t i = 0; i < std::min<std::size_t>(cases.size(), 20); ++i) {
    text += fmt::format("  seed {}:", cases[i]->row.seed);
    for (const Difference& d : cases[i]->differences)
      text += fmt::format(" {} {:.2g}/{}{}", d.quantity, 100 * d.off,
                          d.estimate ? fmt::format("{:.2g}", 100 * *d.estimate) : "-",
                          d.covered() ? "" : "!");
    text += fmt::format("\n      {}\n", cases[i]->drawn.about);
  }
  return text.empty() ? "  none\n" : text;
}

/// Ratio of a case's worst difference to its stated error.
double excess(const ComparedCase* c) {
  double most = 0;
  for (const Difference& d : c->differences)
    if (!d.covered()) most = std::max(most, d.off / std::max(*d.estimate, 1e-12));
  return most;
}

std::string worst_cases(const Comparison& all) {
  std::vector<const ComparedCase*> off, beyond;
  for (const ComparedCase& c : all.cases) {
    if (!c.differences.empty()) off.push_back(&c);
    if (excess(&c) > 0) beyond.push_back(&c);
  }
  std::ranges::sort(off, std::ranges::greater{}, &ComparedCase::worst);
  std::ranges::sort(beyond, std::ranges::greater{}, excess);
  return fmt::format(
      "\nthe worst, each figure off/stated in %:\n{}\n"
      "beyond what is stated (!), the furthest first:\n{}",
      list(off), list(beyond));
}

}  // namespace

double contract(const std::string& effort) {
  return effort == "fast" ? 1e-2 : effort == "fine" ? 3e-4 : 2e-3;
}

std::string study_report(const Rows& rows, const std::string& effort) {
  const Comparison all = compare(rows, effort);
  const double allowed = contract(effort);
  std::string text = fmt::format("accuracy {}: {}", effort, overview(all, allowed));
  if (all.strangers > 0)
    text +=
        fmt::format("left out: {} rows of cases that are drawn otherwise today\n", all.strangers);
  return text + quantity_table(all, allowed) + class_tables(all, allowed) + what_went_wrong(all) +
         worst_cases(all);
}

}  // namespace cw::accuracy
