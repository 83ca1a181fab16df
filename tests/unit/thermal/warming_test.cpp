// A part of one temperature on a constant power.
#include "solver/thermal/warming.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace cw {
namespace {

// The resistance-capacitance network of any heat-transfer text: 63.2 % of the rise in one time
// constant, from the air's temperature or above it.
TEST(ThermalMass, TimeConstantOfTheNetwork) {
  const ThermalMass bare{8.0, 50.0};  // 400 s
  const Temperature air = Temperature::celsius(25);
  const double watts = 3.0, rise = 150.0;
  const auto after = [&](double constants) {
    return Temperature{air.kelvin + rise * (1 - std::exp(-constants))};
  };
  EXPECT_NEAR(time_to_reach(bare, watts, air, air, after(1.0)).value(), 400.0, 1e-9);
  EXPECT_NEAR(time_to_reach(bare, watts, air, after(0.5), after(2.0)).value(), 600.0, 1e-9);
}

// A temperature already passed takes no time; one that is never reached has none.
TEST(ThermalMass, PassedOrOutOfReach) {
  const ThermalMass bare{8.0, 50.0};
  const Temperature air = Temperature::celsius(25);
  EXPECT_EQ(time_to_reach(bare, 3.0, air, {400.0}, {390.0}), 0.0);
  EXPECT_FALSE(time_to_reach(bare, 3.0, air, air, {air.kelvin + 150.0}));
}

}  // namespace
}  // namespace cw
