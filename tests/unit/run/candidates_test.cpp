// Changes to try if a heater does not do its job.
#include "solver/run/candidates.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "materials/library.hpp"
#include "solver/heater/rings.hpp"

namespace cw {
namespace {

/// A bolt in six turns, ten cans, 24 V.
Heater bolt() {
  Heater h;
  Workpiece& work = h.workpiece.emplace();
  work.material = find_material("steel-low-carbon");
  work.outline.profile = {{0, -0.04}, {5.45e-3, -0.04}, {5.45e-3, 0.04}, {0, 0.04}};
  h.coil.turns = 6;
  h.coil.bore = 22e-3;
  h.coil.pitch = 8e-3;
  h.coil.conductor = {RoundTube{6e-3, 1e-3}, find_material("copper-tube")};
  Tank& tank = h.tank.emplace();
  tank.capacitance = 3.3e-6;
  tank.cans = 10;
  PushPullDrive drive;
  drive.supply = 24;
  drive.supply_limit = 20;
  h.drive = drive;
  h.heat.emplace().target = Temperature::celsius(900);
  return h;
}

// Each candidate changes one thing, none occurs twice, and its description matches the changed
// heater.
TEST(Candidates, ChangeOneThingEach) {
  const Heater own = bolt();
  const std::vector<Candidate> all = candidates(own, {});
  EXPECT_GE(all.size(), 12U);
  for (const Candidate& c : all) {
    ASSERT_EQ(c.steps.size(), 1U);
    const Remedy::Step& step = c.steps.front();
    EXPECT_NE(step.from, step.to);
    EXPECT_EQ(c.heater.coil.turns, step.knob == Knob::turns ? step.to : 6.0);
    EXPECT_EQ(c.heater.coil.bore, step.knob == Knob::bore ? step.to : 22e-3);
    EXPECT_EQ(c.heater.coil.pitch, step.knob == Knob::pitch ? step.to : 8e-3);
    EXPECT_EQ(std::get<PushPullDrive>(c.heater.drive).supply,
              step.knob == Knob::supply ? step.to : 24.0);
    EXPECT_EQ(c.heater.bodies.size(), step.knob == Knob::insulation ? 1U : 0U);
  }
  for (const Knob knob :
       {Knob::turns, Knob::bore, Knob::pitch, Knob::cans, Knob::supply, Knob::insulation})
    EXPECT_TRUE(
        std::ranges::any_of(all, [&](const Candidate& c) { return c.steps.front().knob == knob; }));
}

// Each candidate can be built: turns clear the work by 2 mm and one another by 1 mm, a sleeve fits
// between work and turns, cans are whole and the bank follows their number.
TEST(Candidates, CanBeBuilt) {
  int sleeves = 0, banks = 0;
  for (const Candidate& c : candidates(bolt(), {})) {
    EXPECT_GE(c.heater.coil.bore / 2 - 5.45e-3, 2e-3 - 1e-9);
    EXPECT_GE(turn_gap(c.heater.coil), 1e-3 - 1e-9);
    for (const Body& sleeve : c.heater.bodies) {
      EXPECT_GT(extent_of(sleeve.outline).inner, 5.45e-3);
      EXPECT_LT(extent_of(sleeve.outline).outer, c.heater.coil.bore / 2);
      ++sleeves;
    }
    const int cans = *c.heater.tank->cans;
    if (c.steps.front().knob == Knob::cans) {
      EXPECT_NEAR(c.heater.tank->capacitance, 0.33e-6 * cans, 1e-12);
      ++banks;
    }
  }
  EXPECT_GT(sleeves, 0);
  EXPECT_GT(banks, 0);
}

// A part past its limit by a figure that follows the voltage brings the voltage that keeps it.
TEST(Candidates, AVoltageThatKeepsTheLimits) {
  Result result;
  result.limits.push_back(
      {"capacitor can", "current_rms_A", 11.4, 9.0, 11.4 / 9, Verdict::stop, "cold", ""});
  const auto all = candidates(bolt(), result);
  EXPECT_TRUE(std::ranges::any_of(all, [](const Candidate& c) {
    const Remedy::Step& step = c.steps.front();
    return step.knob == Knob::supply && step.to == 18.0;  // 24 V x 0.95 / 1.27, on half volts
  }));
}

// In words with units: the new value and the old one.
TEST(Candidates, InWords) {
  const Heater own = bolt();
  EXPECT_EQ(words_of({Knob::turns, 6, 10}, own), "10 turns instead of 6");
  EXPECT_EQ(words_of({Knob::bore, 22e-3, 15e-3}, own), "a bore of 15 mm instead of 22 mm");
  EXPECT_EQ(words_of({Knob::cans, 10, 14}, own), "14 cans (4.62 uF) instead of 10");
  EXPECT_EQ(words_of({Knob::supply, 24, 36}, own), "a supply of 36.0 V instead of 24.0 V");
}

}  // namespace
}  // namespace cw
