// Water in the bore of the tube: friction, pressure drop, temperatures.
#include "solver/thermal/water_channel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "materials/water.hpp"

namespace cw {
namespace {

constexpr double pi = std::numbers::pi;

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
  for (const double dean : {100.0, 500.0, 1500.0}) {
    const double reynolds = dean / std::sqrt(0.01), root = std::sqrt(dean);
    if (reynolds > coil_critical_reynolds(0.01)) continue;
    const double ratio = coil_friction(reynolds, 0, 0.01) * reynolds / 64;
    // D. Hasson, Res. Corresp. 1 (1955) S1; Y. Mori, W. Nakayama, Int. J. Heat Mass Transfer 8
    // (1965) 67 (both from memory).
    EXPECT_NEAR(ratio, 0.556 + 0.0969 * root, 0.04 * ratio) << dean;
    if (dean > 200) {
      EXPECT_NEAR(ratio, 0.108 * root / (1 - 3.253 / root), 0.04 * ratio) << dean;
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

// What the water takes up is what the tube gives off, and the trade's rule of thumb holds.
TEST(WaterChannel, HeatBalance) {
  WaterChannel c = bore_of(4e-3);
  c.coiled_length = 1.5;
  c.coil_diameter = 0.04;
  const CooledTube tube = cool_tube(c, 1e-3 / 60, Temperature::celsius(20), 1000);
  // 1 kW at 1 L/min: 14.4 K (common practice, no source).
  EXPECT_NEAR(tube.outlet.kelvin - tube.inlet.kelvin, 14.4, 0.05);
  EXPECT_GT(tube.wall_mean.kelvin, 0.5 * (tube.inlet.kelvin + tube.outlet.kelvin));
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

}  // namespace
}  // namespace cw
