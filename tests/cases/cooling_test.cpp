// The coil's tube in whole cases: copper temperature, coil loss and water agree.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "materials/water.hpp"

namespace cw::cases {
namespace {

const std::string coil_case = R"(
[coil]
turns = 6
bore = "40 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
leads = { length = "150 mm", spacing = "20 mm" }
coolant = { flow = "0.06 L/min", inlet = "15 degC" }
[drive]
kind = "current"
frequency = "80 kHz"
rms = "150 A"
)";

std::string with(std::string text, const std::string& from, const std::string& to) {
  text.replace(text.find(from), from.size(), to);
  return text;
}

CoolingResult cooling_of(const std::string& text) {
  return run_case(read_case_text(text, "case.toml"), Effort::fast).result.cooling.value();
}

// Coil loss and outlet temperature agree to 0.1 % within four passes, even if little water lets the
// copper warm by tens of kelvin: a new field with the copper at the computed temperature gives the
// same loss, and that loss warms the water to the stated outlet temperature.
TEST(Cooling, CoilLossAndOutletAgree) {
  const CoolingResult c = cooling_of(coil_case);
  ASSERT_TRUE(c.water);
  EXPECT_LE(c.water->passes, 4);
  EXPECT_LT(c.water->agreement, 1e-3);
  EXPECT_GT(c.water->wall_mean.kelvin - c.water->inlet.kelvin, 25.0);
  const std::string fixed = with(
      coil_case, "coolant",
      "temperature = \"" + std::to_string(c.water->wall_mean.in_celsius()) + " degC\"\ncoolant");
  EXPECT_NEAR(cooling_of(fixed).coil_loss, c.coil_loss, 1e-3 * c.coil_loss);
  const WaterProperties water = water_at({0.5 * (c.water->inlet.kelvin + c.water->outlet.kelvin)});
  const double carried = c.water->flow * water_at(c.water->inlet).density * water.heat_capacity *
                         (c.water->outlet.kelvin - c.water->inlet.kelvin);
  EXPECT_NEAR(carried, c.heat(), 1e-3 * c.heat());
}

// The flow suggested for a rise gives that rise.
TEST(Cooling, SuggestedFlowGivesTheWantedRise) {
  const double flow = cooling_of(coil_case).water->flow_for_rise;
  const CoolingResult c =
      cooling_of(with(coil_case, "0.06 L/min", std::to_string(flow * 60e3) + " L/min"));
  EXPECT_NEAR(c.water->outlet.kelvin - c.water->inlet.kelvin, 15.0, 15.0 * 0.05);
}

// A coil without water says how long it may stay on; its history begins at the surroundings, ends
// at the limit and takes the time stated.
TEST(Cooling, DryCoilReachesItsLimitInTheTimeStated) {
  const CoolingResult c = cooling_of(with(coil_case,
                                          "coolant = { flow = \"0.06 L/min\", inlet = "
                                          "\"15 degC\" }",
                                          "temperature_limit = \"120 degC\""));
  ASSERT_TRUE(c.air);
  EXPECT_TRUE(c.air->limit_given);
  ASSERT_TRUE(c.air->first_on && c.air->on && c.air->off);
  EXPECT_LT(*c.air->on, *c.air->first_on);
  // Lower bound of the time: no loss to the air, and the copper's loss at the limit all the time.
  const double rise = 100.0;
  EXPECT_LT(*c.air->first_on, 1.5 * rise / c.air->first_rate);
  EXPECT_GT(*c.air->first_on, 0.6 * rise / c.air->first_rate);
  double end = 0;
  for (const TubePoint& p : c.air->points)
    if (p.on) end = p.time;
  EXPECT_NEAR(end, *c.air->first_on, 1e-3 * end);
  EXPECT_NEAR(c.air->points.front().temperature.in_celsius(), 20.0, 1e-9);
}

// Every part with a heat capacity has its time on and its rest; its final temperature follows from
// its loss by T = Ta + P R.
TEST(Cooling, PartsWithAHeatCapacityHaveTheirDuty) {
  std::ifstream file(std::filesystem::path(COILWRIGHT_EXAMPLES) / "axle-nut.toml");
  std::string text{std::istreambuf_iterator<char>(file), {}};
  const auto insert = [&](const std::string& behind, const std::string& what) {
    ASSERT_NE(text.find(behind), std::string::npos) << behind;
    text.insert(text.find(behind) + behind.size(), what);
  };
  const std::string warming =
      R"(, warming = { heat_capacity = "40 J/K", to_air = "5 K/W", limit = "90 degC" })";
  insert("spacing = \"7 mm\"", warming);
  insert("gate_time = \"80 ns\"", warming);
  const Case subject = read_case_text(text, "case.toml");
  ASSERT_TRUE(check_case(subject).errors.empty());
  const Result result = run_case(subject, Effort::fast).result;
  ASSERT_EQ(result.parts->duty.size(), 3U);
  const char* names[] = {"feed choke", "switch", "leads"};
  for (std::size_t k = 0; k < 3; ++k) {
    const DutyResult& duty = result.parts->duty[k];
    EXPECT_EQ(duty.part, names[k]);
    EXPECT_NEAR(duty.steady->in_celsius(), 15 + duty.power * (k == 0 ? 9 : 5), 1e-6);
    EXPECT_EQ(duty.on.has_value(), duty.steady > duty.limit) << duty.part;
  }
  EXPECT_TRUE(result.parts->duty[2].on) << "55 W of leads in 5 K/W";
}

}  // namespace
}  // namespace cw::cases
