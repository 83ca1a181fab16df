#include "cases/design/design_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "cases/design/design_case.hpp"
#include "cases/design/parts_to_buy.hpp"
#include "materials/figures.hpp"
#include "materials/one_line.hpp"
#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

constexpr Layout below_heading{80, 2, 4};

double most_supply_current(const Result& result) {
  double most = 0.0;
  for (const HeatLine& line : result.heat->lines)
    most = std::max(most, line.supply_current.value_or(0.0));
  return most;
}

/// What a design takes: "2.31 m of the tube; 20.0 A and 460 W from the supply at most".
std::string needs_of(const OfferedDesign& d) {
  return fmt::format("Takes {:.2f} m of the {}; at most {} and {} from the supply.", d.tube,
                     d.subject.coil.conductor.kind(), figure(most_supply_current(d.result), "A"),
                     figure(most_while_heating(d.result, &HeatLine::total_W), "W"));
}

/// Why it stands beside the first: "36 % less power from the supply".
std::string against_first(const OfferedDesign& d, const OfferedDesign& first) {
  const auto less = [](double own, double other, const char* of) {
    return fmt::format("{:.0f} % less {} than the first", 100 * (1 - own / other), of);
  };
  std::vector<std::string> reasons;
  for (const DesignKind kind : d.kinds) {
    if (kind == DesignKind::coolest_supply)
      reasons.push_back(less(most_while_heating(d.result, &HeatLine::total_W),
                             most_while_heating(first.result, &HeatLine::total_W),
                             "power from the supply"));
    if (kind == DesignKind::least_copper)
      reasons.push_back(less(d.tube, first.tube, first.subject.coil.conductor.kind().data()));
  }
  return reasons.empty() ? "" : capitalised(fmt::format("{}.", fmt::join(reasons, ", ")));
}

std::string design_lines(const ShelfCase& shelf, const OfferedDesign& d,
                         const OfferedDesign* first) {
  std::vector<std::string> kinds;
  for (const DesignKind kind : d.kinds) kinds.emplace_back(words_of(kind));
  std::string text =
      wrapped(capitalised(fmt::format("{}: {}", fmt::join(kinds, ", "), words_of(shelf, d.choice))),
              {80, 0, 2});
  text += wrapped(d.result.verdict->sentence, below_heading);
  if (!d.result.verdict->first_out.empty())
    text += wrapped(capitalised(d.result.verdict->first_out) + ".", below_heading);
  std::string needs = needs_of(d);
  if (first != nullptr)
    if (const std::string why = against_first(d, *first); !why.empty()) needs += " " + why;
  return text + wrapped(needs, below_heading);
}

std::string parts_line(const ShelfCase& shelf, const FoundDesigns& found) {
  const std::vector<std::string> parts = parts_to_buy(shelf, found);
  if (parts.empty()) return "";
  return wrapped(
      fmt::format("To buy, or to check against what you have: {}.", fmt::join(parts, "; ")),
      {80, 0, 2});
}

std::string design_heading(const FoundDesigns& found) {
  constexpr std::array words = {"one design does", "two designs do", "three designs do"};
  return wrapped(
      fmt::format("Yes: {} it with {}.", words[found.offered.size() - 1], base_of(found)),
      {80, 0, 2});
}

std::string purchase_lines(const FoundDesigns& found) {
  std::string text;
  for (const Purchase& p : found.purchases)
    text += wrapped(p.enough ? fmt::format("{}: {}", capitalised(p.what), p.outcome)
                             : fmt::format("Nearer, but not enough: {}: {}", p.what, p.outcome),
                    below_heading);
  if (text.empty()) return "No single purchase was found that changes it.\n";
  return "What to buy (solved at low effort):\n" + text;
}

std::string missing_text(const ShelfCase& shelf, const FoundDesigns& found) {
  std::string text = wrapped(
      fmt::format("No: nothing that can be built with {} does it.", base_of(found)), {80, 0, 2});
  for (const OfferedDesign& d : found.nearest) {
    text += wrapped(fmt::format("Nearest: {}", words_of(shelf, d.choice)), {80, 0, 2});
    text += wrapped(d.result.verdict->sentence, below_heading);
    if (!d.result.verdict->why.empty()) text += wrapped(d.result.verdict->why, below_heading);
  }
  return text + purchase_lines(found);
}

}  // namespace

std::string words_of(const ShelfCase& shelf, const Choice& choice) {
  std::string words = fmt::format("{:g} {}, bore {} mm, pitch {} mm", choice.turns,
                                  choice.turns == 1 ? "turn" : "turns", millimetres(choice.bore),
                                  millimetres(choice.pitch));
  if (choice.in_series > 1)
    words +=
        fmt::format(", {} of {} cans in series",
                    choice.strings == 1 ? "one string" : fmt::format("{} strings", choice.strings),
                    choice.in_series);
  else if (shelf.cans_to_buy)
    words += fmt::format(", {} {}", choice.strings, choice.strings == 1 ? "can" : "cans");
  else if (shelf.bank_free)
    words += fmt::format(", {} of {} cans", choice.strings, shelf.cans);
  return words;
}

std::string base_of(const FoundDesigns& found) {
  if (!found.supply) return "what is on the shelf";
  return fmt::format("a supply of {:g} V and {:g} A{}", found.supply->volts, found.supply->amperes,
                     found.offered.empty() ? "" : ", the least that was found");
}

std::string design_text(const ShelfCase& shelf, const FoundDesigns& found) {
  std::string text = cut_line(one_line(shelf.subject.title), 80) + "\n";
  if (found.offered.empty()) {
    text += missing_text(shelf, found);
  } else {
    text += design_heading(found);
    for (const OfferedDesign& d : found.offered)
      text += design_lines(shelf, d, &d == &found.offered.front() ? nullptr : &found.offered[0]);
    text += parts_line(shelf, found);
  }
  return text + wrapped(fmt::format("Compared: {} coils, {} with their banks; {} heated.",
                                    found.coils, found.banks, found.heated),
                        {80, 0, 2});
}

}  // namespace cw::cases
