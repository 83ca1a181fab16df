// Jobs from practice, and the decisions of an experienced heat treater.
#include <gtest/gtest.h>

#include <algorithm>

#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/cautions.hpp"
#include "solver/run/candidates.hpp"
#include "tests/cases/bolt.hpp"

namespace cw::cases {
namespace {

Result solved(const Case& subject, bool advise = false) {
  RunOptions options;
  options.effort = Effort::fast;
  options.advise = advise;
  return run_case(subject, options).result;
}

constexpr const char* brass_cup = R"(title = "Brass in a graphite cup"
[workpiece]
material = "graphite"
profile  = [["0 mm", "-30 mm"], ["18 mm", "-30 mm"], ["18 mm", "30 mm"],
            ["13 mm", "30 mm"], ["13 mm", "-24 mm"], ["0 mm", "-24 mm"]]
[[body]]
name     = "charge"
material = "brass-c26000"
diameter = "26 mm"
length   = "24 mm"
centre   = "-12 mm"
useful   = true
[coil]
turns     = 8
bore      = "46 mm"
pitch     = "9 mm"
conductor = { tube = "6 mm", wall = "1 mm", material = "copper-tube" }
coolant   = { flow = "1 L/min", inlet = "20 degC" }
[drive]
kind      = "current"
frequency = "70 kHz"
rms       = "180 A"
[heat]
target    = "1010 degC"
until     = "900 s"
)";

// A charge of brass is judged by its own temperature, not that of the cup; the run says when all of
// it is molten, and warns of fume of zinc.
TEST(Jobs, BrassIsMoltenAndItsZincIsNamed) {
  const Result result = solved(read_case_text(brass_cup, "cup.toml", {}));
  ASSERT_TRUE(result.heat && result.verdict);
  const HeatResult& heat = *result.heat;
  ASSERT_TRUE(heat.reached) << result.verdict->sentence;
  EXPECT_EQ(heat.target_of, "charge");
  EXPECT_NE(result.verdict->sentence.find("coldest place of the charge"), std::string::npos);
  const auto charge = std::ranges::find(heat.bodies, "charge", &HeatedBody::name);
  ASSERT_NE(charge, heat.bodies.end());
  EXPECT_NEAR(charge->at_end.coldest, heat.target->kelvin, 0.5);
  EXPECT_EQ(charge->at_end.molten, 1.0);
  const auto molten = std::ranges::find(heat.events, "charge: all molten", &HeatEventResult::name);
  ASSERT_NE(molten, heat.events.end());
  EXPECT_LT(molten->time, *heat.time_to_target);
  const auto list = cautions(result);
  EXPECT_TRUE(std::ranges::any_of(
      list, [](const Caution& c) { return c.id == "zinc_fume" && c.triggered; }));
}

constexpr const char* short_shaft = R"(title = "Short shaft, to be hardened"
[workpiece]
material = "steel-medium-carbon"
diameter = "25 mm"
length   = "60 mm"
[coil]
turns     = 6
bore      = "34 mm"
pitch     = "9 mm"
conductor = { tube = "6 mm", wall = "1 mm", material = "copper-tube" }
coolant   = { flow = "4 L/min", inlet = "20 degC" }
[drive]
kind      = "current"
frequency = "100 kHz"
rms       = "1000 A"
[heat]
target_depth = "3 mm"
until        = "300 s"
)";

// If a shaft is heated so fast that its skin overheats before it is hardened 3 mm deep, the verdict
// says so. The advice hardens it without that: solved, within its limits.
TEST(Jobs, AShaftIsHardenedWithoutSpoilingItsSkin) {
  const Case subject = read_case_text(short_shaft, "shaft.toml", {});
  const Result hard = solved(subject, true);
  ASSERT_TRUE(hard.verdict);
  EXPECT_EQ(hard.verdict->answer, Answer::past_limits) << hard.verdict->sentence;
  EXPECT_NE(hard.verdict->sentence.find("reaches"), std::string::npos) << hard.verdict->sentence;
  ASSERT_FALSE(hard.remedies.empty());
  const Remedy& first = hard.remedies.front();
  EXPECT_TRUE(first.reached && first.past_their_limit.empty()) << first.change;
  Case gentle = subject;
  static_cast<Heater&>(gentle) = changed(subject, first.steps);
  const Result after = solved(gentle);
  EXPECT_EQ(after.verdict->answer, Answer::yes) << first.change << ": " << after.verdict->sentence;
  EXPECT_GE(after.heat->hardening->depth, 2.97e-3);
}

// If a supply holds the skin of steel at its Curie point, power jumps up and down. The stall
// temperature from the direct search equals that of a long run in time; a run that cannot reach its
// target ends early.
TEST(Jobs, ASupplyHoldsSteelAtItsCuriePoint) {
  const auto left_on = [](const char* heat) {
    const std::vector<Change> wide{{"workpiece.length", "60 mm"},
                                   {"coil.turns", "8"},
                                   {"coil.bore", "44 mm"},
                                   {"drive.supply_limit", "14 A"}};
    return *solved(read_case_text(bolt + "[heat]\n" + heat, "bolt.toml", wide)).heat;
  };
  const HeatResult followed = left_on("until = \"200 s\"\n");
  const HeatResult sought = left_on("target = \"900 degC\"\nuntil = \"200 s\"\n");
  EXPECT_FALSE(sought.reached);
  ASSERT_TRUE(sought.stall.has_value());
  EXPECT_NEAR(followed.lines.back().coldest, sought.stall->kelvin, 5.0);
  EXPECT_LT(sought.field_updates, followed.field_updates);
}

}  // namespace
}  // namespace cw::cases
