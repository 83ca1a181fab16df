#include "solver/limits/cooling_limits.hpp"

#include <gtest/gtest.h>

#include "solver/limits/limits.hpp"
#include "tests/unit/postproc/sample_cooling.hpp"

namespace cw {
namespace {

using sample::dry;
using sample::wet;

const LimitResult& find_quantity(const std::vector<LimitResult>& rows,
                                 const std::string& quantity) {
  for (const LimitResult& r : rows)
    if (r.quantity == quantity) return r;
  throw std::runtime_error(quantity);
}

// Plenty of water: nothing to say but the seconds from loss of flow.
TEST(CoolingLimits, PlentyOfWaterIsSound) {
  ASSERT_FALSE(cooling_limits(wet()).empty());
  for (const LimitResult& r : cooling_limits(wet())) EXPECT_EQ(r.verdict, Verdict::ok) << r.part;
}

// Water that boils at the wall is a stop, with the flow that would do; a warm outlet a watch.
TEST(CoolingLimits, BoilingIsAStop) {
  CoolingResult c = wet();
  c.water->wall_hottest = Temperature::celsius(104);
  c.water->boiling_margin = -4;
  const auto rows = cooling_limits(c);
  const LimitResult& r = find_quantity(rows, "wall_hottest_K");
  EXPECT_EQ(r.verdict, Verdict::stop);
  EXPECT_NEAR(r.limit.value(), 373.15, 1e-9);
  EXPECT_NE(r.advice.find("0.400 L/min"), std::string::npos) << r.advice;
  c = wet();
  c.water->outlet = Temperature::celsius(61);
  EXPECT_EQ(find_quantity(cooling_limits(c), "wall_hottest_K").verdict, Verdict::watch);
}

// A pump is judged only if the case gives its pressure.
TEST(CoolingLimits, PumpOnlyWhenGiven) {
  EXPECT_FALSE(find_quantity(cooling_limits(wet()), "pressure_drop_Pa").limit);
  CoolingResult c = wet();
  c.water->pressure = 25e3;
  EXPECT_EQ(find_quantity(cooling_limits(c), "pressure_drop_Pa").verdict, Verdict::stop);
}

// If there is too little time to react between loss of flow and steam, the advice is a flow switch.
TEST(CoolingLimits, QuickBoilingAsksForAFlowSwitch) {
  CoolingResult c = wet();
  c.water->no_flow_to_boiling = 6;
  const auto rows = cooling_limits(c);
  EXPECT_EQ(find_quantity(rows, "time_to_boiling_s").verdict, Verdict::watch);
  EXPECT_NE(find_quantity(rows, "time_to_boiling_s").advice.find("flow switch"), std::string::npos);
}

// A dry coil that would exceed its limit states the time; one with a lower steady temperature is
// judged by its rise.
TEST(CoolingLimits, DryCoil) {
  const auto rows = cooling_limits(dry());
  EXPECT_EQ(find_quantity(rows, "on_time_s").verdict, Verdict::watch);
  EXPECT_NE(find_quantity(rows, "on_time_s").advice.find("40.0 s on and 600 s off"),
            std::string::npos);
  CoolingResult c = dry();
  c.air->settles = Temperature::celsius(101.5);
  const auto settled = cooling_limits(c);
  EXPECT_NEAR(find_quantity(settled, "temperature_K").fraction.value(), 0.5, 1e-9);
  EXPECT_EQ(find_quantity(settled, "temperature_K").verdict, Verdict::ok);
}

// Further rows are inserted in the order of their fractions.
TEST(CoolingLimits, MergedInOrder) {
  std::vector<LimitResult> all{{"a", "x", 1, 1, 1.0, Verdict::stop, "cold", ""},
                               {"b", "x", 1, {}, {}, Verdict::ok, "cold", ""}};
  merge_limits(all, {{"c", "x", 1, 2, 0.5, Verdict::ok, "cold", ""}});
  EXPECT_EQ(all[0].part + all[1].part + all[2].part, "acb");
}

}  // namespace
}  // namespace cw
