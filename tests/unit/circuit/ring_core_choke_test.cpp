#include "solver/circuit/ring_core_choke.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace cw {
namespace {

using std::numbers::pi;

// A core of constant permeability and A_L 100 nH; 40 turns of the wire fill the hole.
const RingCore core{50e-3, 30e-3, 20e-3, 1.0, 100e-9, {}, {}};
const double diameter = 30e-3 / (1 + 40 / pi);

// Property: one layer is full when adjacent turns fill the circle of their centres, whose diameter
// is that of the hole less that of the wire. Elementary geometry: 40 d = pi (D - d).
TEST(RingCoreChoke, FortyTurnsFillTheHoleOfForty) {
  const auto choke = wind_choke(core, {diameter, 1.724e-8}, {1600 * 100e-9 * (1 - 1e-9), 1.0, 0.0});
  ASSERT_TRUE(choke);
  EXPECT_EQ(choke->turns, 40);
  EXPECT_NEAR(choke->hole_fill, 1.0, 1e-12);
}

// Property: the middle of the wire is half its thickness from the section: two sides of 20 mm, two
// of 10 mm and a circle of the wire's diameter at the corners. Elementary geometry.
TEST(RingCoreChoke, LengthAndResistanceOfTheWire) {
  const auto choke = wind_choke(core, {diameter, 1.724e-8}, {1600 * 100e-9 * (1 - 1e-9), 1.0, 0.0});
  ASSERT_TRUE(choke);
  const double length = 40 * (2 * 20e-3 + 2 * 10e-3 + pi * diameter);
  EXPECT_NEAR(choke->wire_length, length, 1e-12);
  EXPECT_NEAR(choke->resistance_ohm, 1.724e-8 * length / (pi * diameter * diameter / 4), 1e-12);
}

// Property: the share of permeability left is 1 at no field and as stated at both points.
TEST(RingCoreChoke, RollOffPassesThroughItsPoints) {
  const BiasRollOff data{2000, 5000};
  EXPECT_EQ(permeability_left(data, 0), 1.0);
  EXPECT_NEAR(permeability_left(data, 2000), 0.8, 1e-12);
  EXPECT_NEAR(permeability_left(data, -5000), 0.5, 1e-12);
}

// Property: length times field is the current enclosed at the mean field of a ring, and length and
// section give the exact mu0 h ln(D/d)/(2 pi) (integral of 1/r over the section).
TEST(RingCoreChoke, EffectivePathGivesTheExactInductance) {
  const double mu0 = 4e-7 * pi;  // CODATA 2018 differs by 5e-10
  EXPECT_NEAR(mu0 * section_area(core) / path_length(core),
              mu0 * 20e-3 * std::log(50.0 / 30.0) / (2 * pi), 1e-18);
  EXPECT_NEAR(section_area(core), 20e-3 * 10e-3, 1e-15);
}

}  // namespace
}  // namespace cw
