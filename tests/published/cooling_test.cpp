// The coils of four examples, with water and without, compared with a march along the bore and with
// plain steps in time.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <string>

#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "tests/published/check.hpp"
#include "tests/published/reference/quadrature.hpp"
#include "tests/published/reference/tube_cooling.hpp"

namespace cw::published {
namespace {

namespace fs = std::filesystem;
using reference::kPi;

cases::Case example(const std::string& name, const std::vector<cases::Change>& changes = {}) {
  const fs::path root = fs::absolute(fs::path(__FILE__)).parent_path().parent_path().parent_path();
  cases::Case subject = cases::read_case(root / "cases/examples" / (name + ".toml"), changes);
  subject.heat.reset();
  return subject;
}

CoolingResult cooling_of(const cases::Case& subject) {
  return cases::run_case(subject, cw::Effort::fast).result.cooling.value();
}

/// A coil as its case file has it; lengths [m].
struct Wound {
  double turns, bore, pitch, tube, wall, lead;

  /// Turns, both leads and the run that closes the coil.
  [[nodiscard]] double length() const {
    return turns * std::hypot(kPi * (bore + tube), pitch) + 2 * lead + turns * pitch;
  }
};

/// The march, with the heat that the program found.
void expect_marched(const CoolingResult& c, const Wound& coil, double litres, double inlet_C,
                    double wall_tolerance) {
  ASSERT_TRUE(c.water);
  const double heat = c.coil_loss + c.lead_loss + c.from_work;
  const reference::WaterEnds ends =
      reference::marched({coil.tube - 2 * coil.wall, coil.length(), litres / 60e3, inlet_C, heat});
  expect_relative(c.water->outlet.in_celsius() - inlet_C, ends.outlet_C - inlet_C, .005);
  expect_relative(c.water->wall_mean.in_celsius() - inlet_C, ends.wall_mean_C - inlet_C,
                  wall_tolerance);
  expect_relative(c.water->wall_hottest.in_celsius() - inlet_C, ends.wall_hottest_C - inlet_C,
                  wall_tolerance);
}

// The water of aluminium-bar is laminar all the way at 0.4 L/min, and turbulent at 2 L/min. Second
// method: outlet and wall are those of a march along the bore, with the properties of the water at
// each place (tube_cooling.hpp names its formulas); no published source.
TEST(CoolingOfAHeater, AluminiumBar) {
  const Wound coil{9, .034, .0082, .00635, .0008, .120};
  for (const auto& [flow, litres] : {std::pair{"0.4 L/min", .4}, {"2 L/min", 2.}})
    expect_marched(cooling_of(example("aluminium-bar", {{"coil.coolant.flow", flow}})), coil,
                   litres, 20, .03);
}

// At the 0.5 L/min of its case the Reynolds number passes 2300 on the way. The program uses the
// mean Reynolds number and treats the whole flow as laminar, so its wall is too warm by some
// kelvin, never too cold. Second method: the same march along the bore.
TEST(CoolingOfAHeater, AluminiumBarInTransition) {
  const CoolingResult c = cooling_of(example("aluminium-bar"));
  const Wound coil{9, .034, .0082, .00635, .0008, .120};
  const reference::WaterEnds ends =
      reference::marched({coil.tube - 2 * coil.wall, coil.length(), .5 / 60e3, 20, c.heat()});
  expect_relative(c.water->outlet.in_celsius() - 20, ends.outlet_C - 20, .005);
  expect_at_least(c.water->wall_hottest.in_celsius(), ends.wall_hottest_C);
  expect_at_most(c.water->wall_hottest.in_celsius(), ends.wall_hottest_C + 5);
}

// The same for bronze-melt-bench, whose water is between laminar and turbulent flow. Second method:
// the same march along the bore.
TEST(CoolingOfAHeater, BronzeMelt) {
  expect_marched(cooling_of(example("bronze-melt-bench")), {7, .066, .010, .008, .001, .150}, 1, 18,
                 .03);
}

// The coil of axle-nut-bench has no water. Second method: the time until soft solder melts is that
// of plain steps in time with the short forms for copper in air (W. H. McAdams, Heat Transmission,
// 3rd ed., McGraw-Hill 1954 (from memory, page not looked up)).
TEST(CoolingOfAHeater, AxleNutWithoutWater) {
  const cases::Case subject = example("axle-nut-bench");
  const cw::Run run = cases::run_case(subject, cw::Effort::fast);
  const CoolingResult& c = run.result.cooling.value();
  ASSERT_TRUE(c.air && c.air->first_on);
  const Wound coil{5, .026, .0062, .00476, .0008, .400};
  const double inside = coil.tube - 2 * coil.wall;
  const reference::DryTube tube{kPi / 4 * (coil.tube * coil.tube - inside * inside),
                                kPi * coil.tube,
                                coil.tube,
                                coil.length(),
                                c.coil_loss + c.lead_loss,
                                run.states.front().temperature.coil.in_celsius(),
                                c.from_work,
                                .1,
                                c.air->surroundings.in_celsius(),
                                183};
  expect_relative(*c.air->first_on, reference::seconds_to_limit(tube), .03);
}

}  // namespace
}  // namespace cw::published
