#include "solver/limits/cooling_limits.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "materials/solder.hpp"
#include "postproc/result/cooling_tables.hpp"
#include "postproc/text/cooling_text.hpp"
#include "solver/limits/limits.hpp"
#include "tests/unit/postproc/sample_cooling.hpp"

namespace cw {
namespace {

using sample::wet;

CoolingResult dry() {
  CoolingResult c = wet();
  c.water.reset();
  StillAirCooling a;
  a.surroundings = Temperature::celsius(20);
  a.limit = solder_softens;
  a.first_rate = 4;
  a.first_on = 45;
  a.on = 40;
  a.off = 600;
  a.largest_share = 0.1;
  c.air = a;
  return c;
}

const LimitResult& find(const std::vector<LimitResult>& rows, const std::string& quantity) {
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
  const LimitResult& r = find(rows, "wall_hottest_K");
  EXPECT_EQ(r.verdict, Verdict::stop);
  EXPECT_NEAR(r.limit.value(), 373.15, 1e-9);
  EXPECT_NE(r.advice.find("0.400 L/min"), std::string::npos) << r.advice;
  c = wet();
  c.water->outlet = Temperature::celsius(61);
  EXPECT_EQ(find(cooling_limits(c), "wall_hottest_K").verdict, Verdict::watch);
}

// A pump is judged only where the case says what it gives.
TEST(CoolingLimits, PumpOnlyWhenGiven) {
  EXPECT_FALSE(find(cooling_limits(wet()), "pressure_drop_Pa").limit);
  CoolingResult c = wet();
  c.water->pressure = 25e3;
  EXPECT_EQ(find(cooling_limits(c), "pressure_drop_Pa").verdict, Verdict::stop);
}

// Less than a hand needs between loss of flow and steam asks for a flow switch.
TEST(CoolingLimits, QuickBoilingAsksForAFlowSwitch) {
  CoolingResult c = wet();
  c.water->no_flow_to_boiling = 6;
  const auto rows = cooling_limits(c);
  EXPECT_EQ(find(rows, "time_to_boiling_s").verdict, Verdict::watch);
  EXPECT_NE(find(rows, "time_to_boiling_s").advice.find("flow switch"), std::string::npos);
}

// A dry coil that would pass its limit says its seconds; one that settles below is judged by its
// rise.
TEST(CoolingLimits, DryCoil) {
  const auto rows = cooling_limits(dry());
  EXPECT_EQ(find(rows, "on_time_s").verdict, Verdict::watch);
  EXPECT_NE(find(rows, "on_time_s").advice.find("40.0 s on and 600 s off"), std::string::npos);
  CoolingResult c = dry();
  c.air->settles = Temperature::celsius(101.5);
  const auto settled = cooling_limits(c);
  EXPECT_NEAR(find(settled, "temperature_K").fraction.value(), 0.5, 1e-9);
  EXPECT_EQ(find(settled, "temperature_K").verdict, Verdict::ok);
}

// Further rows stand where their fraction puts them.
TEST(CoolingLimits, MergedInOrder) {
  std::vector<LimitResult> all{{"a", "x", 1, 1, 1.0, Verdict::stop, "cold", ""},
                               {"b", "x", 1, {}, {}, Verdict::ok, "cold", ""}};
  merge_limits(all, {{"c", "x", 1, 2, 0.5, Verdict::ok, "cold", ""}});
  EXPECT_EQ(all[0].part + all[1].part + all[2].part, "acb");
}

// The terminal's section fits 80 columns and names state, temperatures and times.
TEST(CoolingText, SaysWhatMatters) {
  for (const CoolingResult& c : {wet(), dry()}) {
    std::istringstream lines(cooling_text(c));
    for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 80U) << line;
  }
  const std::string text = cooling_text(wet());
  for (const char* words : {"at_target", "26.0 degC out", "70.0 K below boiling", "40.0 s"})
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
  EXPECT_NE(cooling_text(dry()).find("45.0 s"), std::string::npos);
}

// Every point of the tube's history is a line with its time and temperature.
TEST(CoolingText, TubeTable) {
  StillAirCooling air;
  air.points = {{true, 0, Temperature::celsius(20)}, {false, 1.5, Temperature::celsius(90)}};
  EXPECT_EQ(tube_table(air).substr(0, 40), "switched,time [s],tube temperature [degC");
  EXPECT_NE(tube_table(air).find("off,1.5,90"), std::string::npos);
}

}  // namespace
}  // namespace cw
