// Ranges from a few solutions compared with those of many heaters solved in full.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "cases/compare/tolerance.hpp"
#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

Case blank() {
  return read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml");
}

/// Each end of each range is within `share` of the width of the solved one.
void expect_same_bands(const ToleranceBands& quick, const ToleranceBands& solved, double share) {
  for (std::size_t q = 0; q < outcome_count; ++q) {
    const OutcomeBand &a = quick.of[q], &b = solved.of[q];
    const double width = b.high - b.low;
    std::printf("%s %zu: %.4g to %.4g, solved %.4g to %.4g\n", quick.state.c_str(), q, a.low,
                a.high, b.low, b.high);
    EXPECT_NEAR(a.low, b.low, share * width) << quick.state << " " << q;
    EXPECT_NEAR(a.high, b.high, share * width) << quick.state << " " << q;
  }
}

// The quick ranges equal those of 500 heaters solved in full within a tenth of their width, with a
// thirtieth of the solutions. Takes minutes: run with --gtest_also_run_disabled_tests.
TEST(Tolerance, DISABLED_BandsAreThoseOfFiveHundredHeaters) {
  for (const ToleranceState& state : tolerance_states(blank())) {
    const ToleranceBands quick = tolerance_bands(blank(), state);
    const ToleranceBands solved = solved_bands(blank(), state, 500);
    EXPECT_LE(20 * quick.solves, solved.solves);
    expect_same_bands(quick, solved, 0.10);
  }
}

// The same with forty heaters, whose range is known to a fifth of its width at best: the scatter of
// one end of a range of forty uniform draws.
TEST(Tolerance, BandsAreThoseOfFortyHeaters) {
  const ToleranceState cold = tolerance_states(blank()).front();
  const ToleranceBands quick = tolerance_bands(blank(), cold);
  EXPECT_EQ(quick.solves, 15);
  expect_same_bands(quick, solved_bands(blank(), cold, 40), 0.20);
}

// More capacitance lowers the frequency by half its share; a wider gap takes power from the work,
// and has the largest effect when the steel is above its Curie point.
TEST(Tolerance, EffectsHaveTheirSignAndSize) {
  const std::vector<ToleranceState> states = tolerance_states(blank());
  ASSERT_EQ(states.size(), 2U);
  const ToleranceBands hot = tolerance_bands(blank(), states[1]);
  EXPECT_EQ(hot.solves, 10);  // permeability has no effect
  const OutcomeBand& frequency = hot.of[0];
  EXPECT_NEAR(frequency.by_part[0], -0.05, 0.003);
  EXPECT_LT(hot.of[2].by_part[1], -0.02);
  EXPECT_EQ(hot.of[2].by_part[2], 0.0);
  EXPECT_LT(frequency.low, frequency.nominal);
  EXPECT_GT(frequency.high, frequency.nominal);
}

// Time to target: more capacitance draws more power and heats faster; the range is that of the
// capacitance alone, about as wide as its slope predicts; the run as written is the nominal one.
TEST(Tolerance, TimeToTargetFollowsTheCapacitance) {
  const std::vector<Change> change{{"heat.target", "250 degC"},
                                   {"drive.supply_limit", "40 A"}};  // else it trips
  Case nut = read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / "axle-nut.toml", change);
  nut.tolerance = {0.1, 0.0, 1.0, 0.0};
  const TimeBand time = time_band(nut);
  EXPECT_EQ(time.runs, 4);
  ASSERT_TRUE(time.band) << time_text(time);
  EXPECT_LT(time.band->by_part[0], -0.02);
  EXPECT_EQ(time.band->largest, 0U);
  const double width = std::log(time.band->high / time.band->low);
  EXPECT_NEAR(width, 0.9 * 2 * std::abs(time.band->by_part[0]), 0.1 * width);
}

// If the target is out of reach, the result says so instead of a range.
TEST(Tolerance, ReportsATargetOutOfReach) {
  const std::vector<Change> change{{"heat.target", "900 degC"}, {"heat.until", "1 s"}};
  const TimeBand time =
      time_band(read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / "axle-nut.toml", change));
  EXPECT_FALSE(time.band);
  EXPECT_EQ(time.not_reached, std::vector<std::string>{"as written"});
  EXPECT_NE(time_text(time).find("not reached: as written"), std::string::npos);
}

}  // namespace
}  // namespace cw::cases
