#include "cases/compare/compare_text.hpp"

#include <fmt/format.h>

#include "materials/figures.hpp"
#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

std::string spoken(std::size_t reading) {
  static constexpr std::array<const char*, reading_count> words = {
      "inductance, empty",      "frequency, empty",    "frequency, loaded", "supply current, empty",
      "supply current, loaded", "current transformer", "pick-up loop"};
  return words[reading];
}

std::string readings_table(const Measured& measured, const Expectation& expected) {
  std::string text = fmt::format("{:<23}{:>10}{:>10}  {:<22}{:>9}\n", "Reading", "read", "expected",
                                 "band without a fault", "off");
  for (const ReadingResult& band : commissioning_readings(expected)) {
    std::size_t k = 0;
    while (reading_names[k] != band.name) ++k;
    if (!measured.value[k]) continue;
    const double off = *measured.value[k] / band.value - 1;
    text += fmt::format("{:<23}{:>10}{:>10}  {:>9} to {:>9}{:>+8.1f} %\n", spoken(k),
                        figure(*measured.value[k], band.unit), figure(band.value, band.unit),
                        figure(band.low, band.unit), figure(band.high, band.unit), 100 * off);
  }
  return text;
}

std::string odds_in_words(double odds) {
  return odds >= 1e4  ? "more than 10000 to 1"
         : odds >= 10 ? fmt::format("{:.0f} to 1", odds)
                      : fmt::format("{:.2g} to 1", odds);
}

std::string verdict(const Case& subject, const Comparison& found) {
  const CauseFit* first = found.ranked.empty() ? nullptr : &found.ranked.front();
  constexpr double worth_a_word = 1.2;
  switch (found.finding) {
    case Finding::sound:
      if (found.odds > worth_a_word)
        return fmt::format(
            "No fault is proved, yet {} fits best: {} against a heater without fault, within the "
            "tolerances and the accuracy of the meters.",
            in_words(first->fault, subject), odds_in_words(found.odds));
      return "No fault found: the readings agree with the heater as written, within its tolerances "
             "and the accuracy of the meters.";
    case Finding::cause:
      return fmt::format("Most likely: {}, {} against a heater without fault{}.",
                         in_words(first->fault, subject), odds_in_words(found.odds),
                         found.may_be_sound() ? ", which the readings do not rule out" : "");
    case Finding::unexplained:
      break;
  }
  return "None of the causes tried explains these readings: look for two faults at once, a wrong "
         "value in the case file, or a meter that does not read rms at this frequency.";
}

}  // namespace

std::string compare_text(const Case& subject, const Measured& measured, const Expectation& expected,
                         const Comparison& found) {
  constexpr std::size_t columns = 80;
  std::string text = wrapped(subject.title, {columns, 0, 0}) + "\n" +
                     readings_table(measured, expected) + "\n" +
                     wrapped(verdict(subject, found), {columns, 0, 0}) + "\n";
  text += fmt::format("{:<52}{:>8}{:>12}\n", "Cause tried", "misfit", "share");
  for (const CauseFit& fit : found.ranked)
    text += fmt::format("{:<52}{:>8.1f}{:>12}{}\n", in_words(fit.fault, subject), fit.misfit,
                        fit.likelihood < 0.001 ? "< 0.1 %" : percent(fit.likelihood),
                        fit.misfit <= found.misfit_limit ? "" : "  no fit");
  text += wrapped(fmt::format("Misfit is chi squared of {} readings; above {:.1f} a cause does not "
                              "explain them. Share: probability of each cause relative to the "
                              "others, if all kinds are equally common.",
                              found.readings, found.misfit_limit),
                  {columns, 0, 0});
  return text;
}

}  // namespace cw::cases
