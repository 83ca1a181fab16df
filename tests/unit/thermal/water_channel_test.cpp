// Water in the bore of the tube: friction, pressure drop, temperatures.
#include "solver/thermal/water_channel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "materials/water.hpp"

namespace cw {
namespace {

using std::numbers::pi;

WaterChannel bore_of(double diameter) {
  WaterChannel c;
  c.area = pi * diameter * diameter / 4;
  c.wetted_perimeter = pi * diameter;
  return c;
}

// Water's viscosity between two points of the table is that of the international standard.
TEST(Water, ViscosityOfTheInternationalFormulation) {
  // IAPWS R12-08, table 4: 889.735 uPa s at 298.15 K and 998 kg/m^3 (from memory).
  EXPECT_NEAR(water_at({298.15}).viscosity, 889.735e-6, 0.005 * 889.735e-6);
}

// Friction and head loss of a rough straight pipe are those of a printed example.
TEST(WaterChannel, HeadLossOfTheTextbookPipe) {
  // F. M. White, Fluid Mechanics, example 6.7 (from memory): nu = 1e-5 m2/s, 0.2 m3/s through
  // 500 m of 200 mm cast iron, roughness 0.26 mm: Re = 128 000, f = 0.0225, head loss 117 m.
  const double velocity = 0.2 / (pi * 0.2 * 0.2 / 4), reynolds = velocity * 0.2 / 1e-5;
  EXPECT_NEAR(reynolds, 128000, 1000);
  const double f = straight_friction(reynolds, 0.26 / 200);
  EXPECT_NEAR(f, 0.0225, 0.0003);
  EXPECT_NEAR(f * 500 / 0.2 * velocity * velocity / (2 * 9.81), 117, 1.5);
}

// Pressure drop in a narrow straight tube is that of Hagen and Poiseuille, 128 mu L Q/(pi d^4).
TEST(WaterChannel, LaminarPressureDropInClosedForm) {
  WaterChannel c = bore_of(4e-3);
  c.straight_length = 3;
  const double flow = 0.3e-3 / 60;
  const double expected = 128 * 1.002e-3 * 3 * flow / (pi * std::pow(4e-3, 4));
  EXPECT_NEAR(water_flow(c, flow, Temperature::celsius(20)).pressure_drop, expected,
              1e-9 * expected);
}

// A coil's laminar friction: White's formula as evaluated independently, and as other published
// formulas have it.
TEST(WaterChannel, LaminarCoilAsPublished) {
  // White 1929 evaluated by another program at Re = 250, d/D = 0.2.
  EXPECT_NEAR(coil_friction(250, 0, 0.2), 0.4063281817830202, 1e-12);
  constexpr double curved = 0.1;
  for (const double dean : {100.0, 500.0, 1500.0}) {
    const double reynolds = dean / std::sqrt(curved), root = std::sqrt(dean);
    ASSERT_LT(reynolds, coil_critical_reynolds(curved));
    const double ratio = coil_friction(reynolds, 0, curved) * reynolds / 64;
    // D. Hasson, Res. Corresp. 1 (1955) S1; Y. Mori, W. Nakayama, Int. J. Heat Mass Transfer 8
    // (1965) 67 (both from memory). The latter is for fast flow, and lies above the other two by
    // 3 % at 500, 6 % at 1500.
    EXPECT_NEAR(ratio, 0.556 + 0.0969 * root, 0.02 * ratio) << dean;
    const double fast = 0.108 * root / (1 - 3.253 / root);
    if (dean > 200) {
      EXPECT_GT(fast, ratio) << dean;
      EXPECT_LT(fast, 1.07 * ratio) << dean;
    }
  }
}

// A coil's turbulent friction: Ito's formula against that of Mori and Nakayama.
TEST(WaterChannel, TurbulentCoilAsPublished) {
  for (const double reynolds : {1e4, 3e4}) {
    const double curved = 0.05, x = std::pow(reynolds * curved * curved, -0.2);
    // Y. Mori, W. Nakayama, Int. J. Heat Mass Transfer 10 (1967) 37 (from memory).
    const double other = 0.3 * std::sqrt(curved) * x * (1 + 0.112 * x);
    EXPECT_NEAR(coil_friction(reynolds, 0, curved), other, 0.04 * other) << reynolds;
  }
}

// Where flow in a coil turns turbulent the two laws meet without a large step.
TEST(WaterChannel, LawsMeetAtTheCriticalReynoldsNumber) {
  for (const double curved : {0.02, 0.05, 0.1}) {
    const double critical = coil_critical_reynolds(curved);
    const double below = coil_friction(0.999 * critical, 0, curved);
    EXPECT_NEAR(coil_friction(1.001 * critical, 0, curved), below, 0.12 * below) << curved;
  }
}

// The water absorbs the heat of the tube, and the trade's rule of thumb holds.
TEST(WaterChannel, HeatBalance) {
  WaterChannel c = bore_of(4e-3);
  c.coiled_length = 1.5;
  c.coil_diameter = 0.04;
  const CooledTube tube = cool_tube(c, 1e-3 / 60, Temperature::celsius(20), 1000);
  // 1 kW at 1 L/min: 14.4 K (common practice, no source).
  EXPECT_NEAR(tube.outlet.kelvin - tube.inlet.kelvin, 14.4, 0.05);
  // The wall is hotter than its water by the same everywhere.
  const double film = tube.wall_hottest.kelvin - tube.outlet.kelvin;
  EXPECT_GT(film, 1.0);
  EXPECT_NEAR(tube.wall_mean.kelvin - 0.5 * (tube.inlet.kelvin + tube.outlet.kelvin), film, 1e-9);
  EXPECT_NEAR(tube.flow.film * c.wetted_perimeter * c.coiled_length * film, 1000, 1e-6);
  EXPECT_NEAR(flow_for_rise(1000, tube.outlet.kelvin - tube.inlet.kelvin, tube.inlet), 1e-3 / 60,
              1e-9);
}

// Far above transition the wall's heat transfer is that of Dittus and Boelter.
TEST(WaterChannel, NusseltOfFastFlow) {
  const double reynolds = 5e4, prandtl = 4;
  // 0.023 Re^0.8 Pr^0.4, the usual textbook form, good to 25 %.
  const double expected = 0.023 * std::pow(reynolds, 0.8) * std::pow(prandtl, 0.4);
  EXPECT_NEAR(water_nusselt(reynolds, prandtl, straight_friction(reynolds, 0)), expected,
              0.15 * expected);
}

// Slow water takes heat as between a tube of even flux and full flow: 48/11 (any textbook), from
// turbulence on V. Gnielinski, Int. Chem. Eng. 16 (1976) 359, and between them a straight line as
// V. Gnielinski, Int. J. Heat Mass Transfer 63 (2013) 134 has it (both from memory).
TEST(WaterChannel, NusseltBetweenLaminarAndTurbulentFlow) {
  constexpr double prandtl = 6, friction = 0.045;
  const auto turbulent = [=](double reynolds) {
    return friction / 8 * (reynolds - 1000) * prandtl /
           (1 + 12.7 * std::sqrt(friction / 8) * (std::cbrt(prandtl * prandtl) - 1));
  };
  EXPECT_NEAR(water_nusselt(100, prandtl, friction), 48. / 11, 0.005);
  EXPECT_NEAR(water_nusselt(2299, prandtl, friction), 48. / 11, 0.005);
  for (const double reynolds : {3000.0, 3001.0, 8000.0})
    EXPECT_NEAR(water_nusselt(reynolds, prandtl, friction), turbulent(reynolds),
                1e-9 * turbulent(reynolds));
  EXPECT_NEAR(water_nusselt(2300 + 0.25 * 700, prandtl, friction),
              0.75 * 4.36 + 0.25 * turbulent(3000), 1e-9);
}

// Property: friction of a straight tube runs without a step from 64/Re through transition.
TEST(WaterChannel, FrictionWithoutAStep) {
  double before = straight_friction(2000, 1e-3);
  EXPECT_NEAR(before, 64. / 2000, 1e-12);
  for (double reynolds = 2001; reynolds < 6000; ++reynolds) {
    const double now = straight_friction(reynolds, 1e-3);
    ASSERT_NEAR(now, before, 2e-3 * before) << reynolds;
    before = now;
  }
}

// Property: coiled and straight lengths of a channel lose pressure each by its own friction, both
// over the same bore and speed; the wall's film is that of a straight tube.
TEST(WaterChannel, CoiledAndStraightLengthsAddUp) {
  WaterChannel c = bore_of(4e-3);
  c.coil_diameter = 0.05;
  constexpr double flow = 1.2e-3 / 60;
  const Temperature mean = Temperature::celsius(40);
  const auto drop = [&](double coiled, double straight) {
    c.coiled_length = coiled;
    c.straight_length = straight;
    return water_flow(c, flow, mean);
  };
  const WaterFlow coil = drop(2, 0), tail = drop(0, 2), both = drop(2, 2);
  const WaterProperties water = water_at(mean);
  const double velocity = flow / (pi * 4e-3 * 4e-3 / 4);
  const double reynolds = water.density * velocity * 4e-3 / water.viscosity;
  EXPECT_NEAR(both.velocity, velocity, 1e-12);
  EXPECT_NEAR(both.reynolds, reynolds, 1e-6);
  EXPECT_NEAR(both.pressure_drop, coil.pressure_drop + tail.pressure_drop,
              1e-9 * both.pressure_drop);
  const double rough = c.roughness / 4e-3;
  const double curved = coil_friction(reynolds, rough, 4e-3 / 0.05),
               plain = straight_friction(reynolds, rough);
  EXPECT_NEAR(coil.pressure_drop / tail.pressure_drop, curved / plain, 1e-9);
  EXPECT_NEAR(tail.pressure_drop, plain * 2 / 4e-3 * 0.5 * water.density * velocity * velocity,
              1e-9 * tail.pressure_drop);
  EXPECT_NEAR(both.film,
              water_nusselt(reynolds, water.prandtl(), plain) * water.conductivity / 4e-3,
              1e-9 * both.film);
}

}  // namespace
}  // namespace cw
