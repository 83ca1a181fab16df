#include "materials/usual_parts.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace cw {
namespace {

constexpr std::array<double, 3> litre = {0.1, 0.1, 0.1};

// Property: a heat sink of one litre has the volumetric resistances of the table it comes from, and
// each faster stream cools better.
// Source: S. Lee, "How to select a heat sink", Electronics Cooling 1 (1995): 500 to 800, 150 to
// 250, 80 to 150 and 50 to 80 cm3 K/W (read in reprints).
TEST(UsualParts, SinksFollowTheirVolume) {
  EXPECT_NEAR(finned_sink_to_air(litre, 0.0), 0.8, 1e-12);
  EXPECT_NEAR(finned_sink_to_air(litre, 1.0), 0.25, 1e-12);
  EXPECT_NEAR(finned_sink_to_air(litre, 2.5), 0.15, 1e-12);
  EXPECT_NEAR(finned_sink_to_air(litre, 5.0), 0.08, 1e-12);
  for (double speed = 0.0; speed < 5.0; speed += 0.25)
    EXPECT_GT(finned_sink_to_air(litre, speed), finned_sink_to_air(litre, speed + 0.25)) << speed;
  EXPECT_DOUBLE_EQ(finned_sink_to_air(litre, 20.0), finned_sink_to_air(litre, 5.0));
  EXPECT_NEAR(finned_sink_to_air({0.1, 0.05, 0.04}, 0.0), 4.0, 1e-12);
}

/// Heat transfer [W/(m2 K)] of a vertical wall of this height [m], 20 K above still air of 40 degC:
/// Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1323, laminar; with the radiation of a
/// surface of emissivity 0.9.
double off_a_wall(double height) {
  const double film = 323.0, over = 20.0, viscosity = 18.2e-6, prandtl = 0.704,
               conductivity = 0.028;
  const double rayleigh =
      9.81 / film * over * std::pow(height, 3) / (viscosity * viscosity) * prandtl;
  const double nusselt = 0.68 + 0.670 * std::pow(rayleigh, 0.25) /
                                    std::pow(1 + std::pow(0.492 / prandtl, 9.0 / 16.0), 4.0 / 9.0);
  const double radiation = 0.9 * 5.67e-8 * (std::pow(333.0, 4) - std::pow(313.0, 4)) / over;
  return nusselt * conductivity / height + radiation;
}

// Property: for cans of 10 to 60 mm the heat loss is within a third of that by convection and
// radiation of their sides, and at most a fifth larger.
TEST(UsualParts, CansLoseTheHeatOfTheirSides) {
  for (const double height : {0.010, 0.020, 0.037, 0.060}) {
    const double size = 0.8 * height;
    const double assumed =
        1 / (boxed_can({size, size, height}).to_air * (size * size + 4 * size * height));
    EXPECT_GT(assumed, off_a_wall(height) / 1.8) << height;
    EXPECT_LT(assumed, 1.2 * off_a_wall(height)) << height;
  }
  EXPECT_NEAR(boxed_can(litre).heat_capacity, 1700.0, 1e-9);
}

// Property: a transistor for a higher voltage of the same technology has more resistance, and
// beyond the classes nothing is assumed; a choke's resistance is proportional to its inductance.
TEST(UsualParts, TransistorsByTheirVoltage) {
  EXPECT_DOUBLE_EQ(usual_on_resistance(150).value_or(0), usual_on_resistance(101).value_or(1));
  for (const double volts : {60.0, 100.0, 150.0, 200.0, 250.0, 300.0, 650.0})
    EXPECT_LT(usual_on_resistance(volts).value_or(1), usual_on_resistance(volts + 1).value_or(0))
        << volts;
  EXPECT_FALSE(usual_on_resistance(1201));
  EXPECT_DOUBLE_EQ(usual_choke_resistance(160e-6), 20e-3);
}

}  // namespace
}  // namespace cw
