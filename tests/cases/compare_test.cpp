// Comparison of readings with predictions: the true cause is found, and no cause is invented.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <random>

#include "cases/compare/compare_text.hpp"
#include "cases/compare/likely_cause.hpp"
#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

/// A heater of five cans whose parts were measured before assembly: small tolerances.
Case compared_heater() {
  return read_case_text(R"(
[workpiece]
material = "steel-medium-carbon"
diameter = "14 mm"
length = "80 mm"
[coil]
turns = 7
bore = "30 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
leads = { length = "100 mm", spacing = "15 mm" }
[tank]
capacitance = "1.65 uF"
cans = 5
joints = { resistance = "0.4 mohm", inductance = "20 nH" }
[drive]
kind = "push-pull"
supply = "24 V"
switch = { resistance = "8 mohm" }
choke = { count = 2, inductance = "150 uH", resistance = "10 mohm" }
[commissioning]
current_transformer = { turns = 100, burden = "1 ohm" }
[tolerance]
capacitance = 0.02
gap = "0.3 mm"
permeability = 1.2
resistivity = 0.03
)",
                        "heater.toml");
}

const FaultLibrary& library() {
  static const FaultLibrary all(compared_heater());
  return all;
}

/// Readings with the noise of real meters.
Measured with_noise(const ReadingValues& truth, double noise, std::mt19937& random) {
  std::normal_distribution<double> spread(0.0, noise);
  Measured measured;
  measured.accuracy = noise;
  for (std::size_t k = 0; k < reading_count; ++k)
    if (truth[k]) measured.value[k] = *truth[k] * std::exp(spread(random));
  return measured;
}

/// Faults at and between the values that are tried, and sound heaters.
Fault seeded(int number, std::mt19937& random) {
  const auto uniform = [&](double a, double b) {
    return std::uniform_real_distribution<double>(a, b)(random);
  };
  Fault fault;
  switch (number % 5) {
    case 0:
      return fault;
    case 1:
      fault.kind = Fault::Kind::missing_can;
      fault.cans = 1 + static_cast<int>(uniform(0, 2));
      return fault;
    case 2:
      fault.kind = Fault::Kind::shorted_turn;
      fault.turn = static_cast<std::size_t>(uniform(0, 6.99));
      return fault;
    case 3:
      fault.kind = Fault::Kind::longer_leads;
      fault.lead = uniform(0.2, 0.8);
      return fault;
    default:
      fault.kind = Fault::Kind::fewer_turns;
      fault.turns = uniform(0.8, 1.8);
      return fault;
  }
}

// Forty heaters with a missing can, a shorted turn, longer leads, fewer turns or no fault, read
// with 2 % of noise: the true cause is first in at least 36, and for a sound heater no fault is
// named.
TEST(Compare, FortySeededHeatersAreToldApart) {
  std::mt19937 random(20240817);
  int right = 0, sound = 0, accused = 0;
  std::string wrong;
  for (int number = 0; number < 40; ++number) {
    const Fault truth = seeded(number, random);
    const Comparison found = library().compare(
        with_noise(readings_with(compared_heater(), truth, Effort::fast), 0.02, random));
    const bool is_sound = truth.kind == Fault::Kind::sound;
    sound += is_sound ? 1 : 0;
    const Fault& first = found.ranked.front().fault;
    const bool named = found.finding == Finding::cause;
    const bool correct =
        is_sound ? found.finding == Finding::sound : named && first.kind == truth.kind;
    if (is_sound && named) ++accused;
    right += correct ? 1 : 0;
    if (!correct)
      wrong += std::to_string(number) + ": " + in_words(truth, compared_heater()) + " taken for " +
               in_words(first, compared_heater()) + "\n";
  }
  EXPECT_EQ(sound, 8);
  EXPECT_EQ(accused, 0) << wrong;
  EXPECT_GE(right, 36) << wrong;
  std::printf("%d of 40 right\n%s", right, wrong.c_str());
}

// One of ten cans missing, in a bank of usual tolerance, read with 2 % of noise: in nine of ten
// such heaters the first line names the missing can; sound heaters are hardly ever accused.
TEST(Compare, AMissingCanOfTenIsInTheHeadline) {
  const Case bolt = read_case_text(R"(
[workpiece]
material = "steel-low-carbon"
diameter = "10.9 mm"
length = "80 mm"
[coil]
turns = 6
bore = "22 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
[tank]
capacitance = "3.3 uF"
cans = 10
[drive]
kind = "push-pull"
supply = "24 V"
switch = { resistance = "10 mohm" }
choke = { count = 2, inductance = "150 uH", resistance = "14 mohm" }
)",
                                   "bolt.toml");
  const FaultLibrary all(bolt);
  Fault missing{Fault::Kind::missing_can};
  missing.cans = 1;
  const ReadingValues truth = readings_with(bolt, missing, Effort::fast);
  std::mt19937 random(5);
  int named = 0, accused = 0;
  constexpr int tries = 20;
  for (int k = 0; k < tries; ++k) {
    const Measured measured = with_noise(truth, 0.02, random);
    const std::string said = compare_text(bolt, measured, all.expected(), all.compare(measured));
    const std::string headline = said.substr(0, said.find("Cause tried"));
    named += headline.find("1 of 10 cans missing") != std::string::npos ? 1 : 0;
    accused += all.compare(with_noise(all.expected().value, 0.02, random)).finding == Finding::cause
                   ? 1
                   : 0;
  }
  EXPECT_GE(named, 18);
  EXPECT_LE(accused, 1);
}

// A bar of stainless steel instead of carbon steel is distinguished from every other fault.
TEST(Compare, WrongSteelIsNamed) {
  std::mt19937 random(7);
  for (const char* name : {"stainless-304", "cast-iron-grey"}) {
    Fault truth{Fault::Kind::wrong_steel};
    truth.material = name;
    const Comparison found = library().compare(
        with_noise(readings_with(compared_heater(), truth, Effort::fast), 0.02, random));
    EXPECT_EQ(found.finding, Finding::cause) << name;
    EXPECT_EQ(found.ranked.front().fault.kind, Fault::Kind::wrong_steel) << name;
  }
}

// Readings that no single fault explains are reported as unexplained.
TEST(Compare, NonsenseIsNotExplained) {
  std::mt19937 random(11);
  Measured measured = with_noise(library().expected().value, 0.02, random);
  *measured.value[static_cast<std::size_t>(ReadingKind::empty_inductance)] *= 1.5;
  *measured.value[static_cast<std::size_t>(ReadingKind::loaded_current)] *= 0.4;
  const Comparison found = library().compare(measured);
  EXPECT_EQ(found.finding, Finding::unexplained);
}

// Chi squared exceeds the limit once in a thousand. Source: closed form of the distribution for
// even degrees of freedom, exp(-x/2) sum (x/2)^k/k!; odd ones lie between.
TEST(Compare, LimitIsPassedOnceInAThousand) {
  const auto beyond = [](int degrees) {
    const double x = chi_squared_limit(degrees) / 2;
    double term = std::exp(-x), sum = 0;
    for (int k = 0; k < degrees / 2; ++k) {
      sum += term;
      term *= x / (k + 1);
    }
    return sum;
  };
  for (const int even : {2, 4, 6}) {
    EXPECT_NEAR(beyond(even), 1e-3, 1e-6);
    EXPECT_LT(chi_squared_limit(even - 1), chi_squared_limit(even));
    EXPECT_LT(chi_squared_limit(even), chi_squared_limit(even + 1));
  }
}

}  // namespace
}  // namespace cw::cases
