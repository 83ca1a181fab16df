#include <fmt/format.h>

#include <algorithm>

#include "cases/compare/tolerance.hpp"
#include "cases/wording.hpp"
#include "materials/figures.hpp"
#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

constexpr std::array<const char*, outcome_count> outcome_words = {"frequency", "supply asked for",
                                                                  "power in the work"};
constexpr std::array<const char*, outcome_count> outcome_units = {"Hz", "A", "W"};

std::string effects(const OutcomeBand& band) {
  std::string text;
  for (std::size_t i = 0; i < tolerance_parts; ++i)
    text += fmt::format("{:>+8.1f}{}", 100 * band.by_part[i],
                        i == band.largest && band.by_part[i] != 0 ? "*" : " ");
  while (text.ends_with(' ')) text.pop_back();
  return text;
}

}  // namespace

std::string time_text(const TimeBand& time) {
  std::string text = "\nHeating run, the supply's limit on\n";
  for (const std::string& name : time.not_reached)
    text += fmt::format("  target not reached: {}\n", name);
  if (!time.band) return text;
  const OutcomeBand& b = *time.band;
  return text + fmt::format("{:<16}{:>9}  {:<18}{}\n", "time to target", figure(b.nominal, "s"),
                            fmt::format("{} to {}", figure(b.low, "s"), figure(b.high, "s")),
                            effects(b));
}

std::string tolerance_text(const Case& subject, const std::vector<ToleranceBands>& bands) {
  constexpr std::size_t columns = 80;
  const Tolerance& t = subject.tolerance;
  std::string text = wrapped(subject.title, {columns, 0, 0});
  text += wrapped(fmt::format("Capacitance +-{:.0f} %, gap +-{}, permeability up or down by a "
                              "factor of {:g}, resistivity of "
                              "the work +-{:.0f} %, without the limit of the supply. Nine heaters "
                              "in ten lie in the band.",
                              100 * t.capacitance, in_words(t.gap, Dimension::length),
                              t.permeability, 100 * t.resistivity),
                  {columns, 0, 0});
  for (const ToleranceBands& state : bands) {
    std::string name = state.state;
    std::ranges::replace(name, '_', ' ');
    text += fmt::format("\n{:<48}{}\n", "State: " + name, "moved by, %; *: most");
    text += fmt::format("{:<16}{:>9}  {:<18}{:>8} {:>8} {:>8} {:>8}\n", "", "nominal", "band",
                        "capac.", "gap", "perm.", "resist.");
    for (std::size_t q = 0; q < outcome_count; ++q) {
      const OutcomeBand& b = state.of[q];
      text += fmt::format("{:<16}{:>9}  {:<18}{}\n", outcome_words[q],
                          figure(b.nominal, outcome_units[q]),
                          fmt::format("{} to {}", figure(b.low, outcome_units[q]),
                                      figure(b.high, outcome_units[q])),
                          effects(b));
    }
  }
  return text;
}

}  // namespace cw::cases
