// Temperature of one part against time.
#include "solver/thermal/lumped_part.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace cw {
namespace {

using std::numbers::pi;

/// Capacity c, loss g (T - 293.15 K), heat p.
LumpedPart linear(double c, double g, double p) {
  return {[=](Temperature) { return c; }, [=](Temperature) { return p; },
          [=](Temperature t) { return g * (t.kelvin - 293.15); }};
}

// A bead in a hot stream warms as in the printed example.
TEST(LumpedPart, ThermocoupleOfTheTextbook) {
  // Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, example 5.1 (from memory): sphere
  // of 0.706 mm, 8500 kg/m3, 400 J/(kg K), h = 400 W/(m2 K), from 25 degC in gas of 200 degC: 199
  // degC after 5.2 s.
  const double d = 7.06e-4, surface = pi * d * d, capacity = 8500 * 400 * pi * d * d * d / 6;
  const LumpedPart bead{[=](Temperature) { return capacity; }, [](Temperature) { return 0.0; },
                        [=](Temperature t) { return 400 * surface * (t.in_celsius() - 200); }};
  const auto time = time_between(bead, Temperature::celsius(25), Temperature::celsius(199), true);
  ASSERT_TRUE(time);
  EXPECT_NEAR(*time, 5.2, 0.05);
}

// Cooling by radiation alone takes the time of the closed form.
TEST(LumpedPart, CoolsByRadiationInClosedForm) {
  // Into empty space: t = C/(3 k) (1/T^3 - 1/T0^3), k = eps sigma A (any heat-transfer text).
  const double k = 5.670374419e-8 * 0.01, capacity = 100;
  const LumpedPart part{[=](Temperature) { return capacity; }, [](Temperature) { return 0.0; },
                        [=](Temperature t) { return k * std::pow(t.kelvin, 4); }};
  const auto time = time_between(part, {1000}, {400}, false);
  ASSERT_TRUE(time);
  const double expected = capacity / (3 * k) * (std::pow(400., -3) - std::pow(1000., -3));
  EXPECT_NEAR(*time, expected, 1e-6 * expected);
}

// With linear loss the duty cycle is the one of the exponential law.
TEST(LumpedPart, DutyCycleInClosedForm) {
  const LumpedPart part = linear(20, 0.2, 50);
  const DutyCycle cycle = duty_cycle(part, {293.15}, {393.15});
  ASSERT_TRUE(cycle.first_on && cycle.on && cycle.off);
  const double tau = 100, final_rise = 250;
  EXPECT_NEAR(*cycle.first_on, tau * std::log(final_rise / (final_rise - 100)), 1e-6);
  EXPECT_NEAR(*cycle.on, tau * std::log((final_rise - 10) / (final_rise - 100)), 1e-6);
  EXPECT_NEAR(*cycle.off, tau * std::log(10.0), 1e-6);
  EXPECT_NEAR(cycle.largest_share, 0.4, 1e-12);
}

// A part that settles below its limit may run for ever, and its history ends where it settles.
TEST(LumpedPart, SettlesBelowTheLimit) {
  const LumpedPart part = linear(20, 1.0, 50);
  const auto settled = settles_at(part, {293.15}, {393.15});
  ASSERT_TRUE(settled);
  EXPECT_NEAR(settled->kelvin, 343.15, 1e-6);
  EXPECT_FALSE(duty_cycle(part, {293.15}, {393.15}).first_on);
  EXPECT_FALSE(time_between(part, {293.15}, {393.15}, true));
  EXPECT_LT(history(part, {293.15}, {393.15}, true, 10).back().temperature.kelvin, 343.15);
}

}  // namespace
}  // namespace cw
