// A shaft to be hardened to a depth.
#include <gtest/gtest.h>

#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "solver/run/heat_readings.hpp"

namespace cw::cases {
namespace {

constexpr const char* shaft = R"(title = "Stub shaft"
[workpiece]
material = "steel-medium-carbon"
diameter = "25 mm"
length   = "60 mm"
[coil]
shape     = "helix"
turns     = 6
bore      = "42 mm"
pitch     = "9 mm"
conductor = { tube = "6 mm", wall = "1 mm", material = "copper-tube" }
coolant   = { flow = "4 L/min", inlet = "20 degC" }
[drive]
kind      = "current"
frequency = "60 kHz"
rms       = "400 A"
[heat]
target_depth = "2 mm"
until  = "120 s"
)";

Result solved(const std::vector<Change>& changes) {
  RunOptions options;
  options.effort = Effort::fast;
  return run_case(read_case_text(shaft, "shaft.toml", changes), options).result;
}

// The run ends when the requested depth reaches the temperature at which the steel hardens, the
// default target. A separate search along the radius finds the same depth.
TEST(Hardening, EndsAtTheDepthAskedFor) {
  for (const char* depth : {"2 mm", "5 mm"}) {
    const Result result = solved({{"heat.target_depth", depth}});
    ASSERT_TRUE(result.heat && result.heat->reached) << depth;
    const HeatResult& heat = *result.heat;
    ASSERT_TRUE(heat.hardening);
    EXPECT_EQ(heat.target->kelvin, heat.hardening->austenite.kelvin);
    EXPECT_NEAR(heat.reading->kelvin, heat.target->kelvin, 0.5);
    EXPECT_NEAR(heat.hardening->depth, *heat.target_depth, 0.02e-3);
    EXPECT_GT(heat.lines.back().surface, heat.lines.back().at_target + 10);
  }
}

// The permitted time after that equals the time of a run to the harmful temperature at the surface.
TEST(Hardening, WindowEndsWhereTheSurfaceIsTooHot) {
  const Change hard{"drive.rms", "900 A"};
  const Result result = solved({hard});
  ASSERT_TRUE(result.heat->reached);
  ASSERT_TRUE(result.heat->hardening->too_hot) << result.verdict->sentence;
  const double too_hot = *result.heat->hardening->too_hot;
  EXPECT_GT(too_hot, *result.heat->time_to_target);
  EXPECT_NE(result.verdict->sentence.find("Switch off within"), std::string::npos)
      << result.verdict->sentence;
  // The same heater left on: its hottest place passes 1050 degC at that time.
  const Result longer = solved({hard, {"heat.target_depth", "11 mm"}});
  const auto& lines = longer.heat->lines;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    const double level = 1050 + zero_celsius;
    if (lines[i].hottest < level) continue;
    const double share = (level - lines[i - 1].hottest) / (lines[i].hottest - lines[i - 1].hottest);
    EXPECT_NEAR(lines[i - 1].time + share * (lines[i].time - lines[i - 1].time), too_hot,
                0.02 * too_hot);
    return;
  }
  FAIL() << "never too hot";
}

}  // namespace
}  // namespace cw::cases
