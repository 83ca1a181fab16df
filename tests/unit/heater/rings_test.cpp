#include "solver/heater/rings.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace cw {
namespace {

Coil coil_of(CoilShape shape, double turns) {
  Coil coil;
  coil.shape = shape;
  coil.turns = turns;
  coil.bore = 0.032;
  coil.pitch = 0.0075;
  coil.conductor.section = RoundTube{0.006, 0.001};
  return coil;
}

double total_weight(const std::vector<RingPlace>& places) {
  double sum = 0.0;
  for (const RingPlace& place : places) sum += place.weight;
  return sum;
}

// Property: whole turns are a pitch apart, each of weight one, centred on z = 0, just outside the
// clear bore.
TEST(Winding, WholeTurnsOfAHelix) {
  const auto places = ring_places(coil_of(CoilShape::helix, 8));
  ASSERT_EQ(places.size(), 8U);
  EXPECT_NEAR(places.front().z, -3.5 * 0.0075, 1e-15);
  EXPECT_NEAR(places.back().z, 3.5 * 0.0075, 1e-15);
  for (const RingPlace& place : places) {
    EXPECT_DOUBLE_EQ(place.r, 0.019);
    EXPECT_DOUBLE_EQ(place.weight, 1.0);
  }
}

// Property: part turns keep the sum of the weights and the length of the coil: n rings N p/n apart.
TEST(Winding, PartTurnsKeepLengthAndWeight) {
  for (const double turns : {0.5, 1.25, 2.5, 7.5, 8.0, 31.1}) {
    const auto places = ring_places(coil_of(CoilShape::helix, turns));
    EXPECT_EQ(places.size(), static_cast<std::size_t>(std::ceil(turns)));
    EXPECT_NEAR(total_weight(places), turns, 1e-12);
    EXPECT_NEAR(places.front().z + places.back().z, 0.0, 1e-15);
    const double n = static_cast<double>(places.size());
    EXPECT_NEAR(places.back().z - places.front().z, turns * 0.0075 * (n - 1) / n, 1e-15);
  }
}

// Property: a flat coil grows outward in one plane; its rings have the mean radii of the turns of a
// spiral that begins at the clear bore.
TEST(Winding, FlatCoilGrowsOutward) {
  const auto places = ring_places(coil_of(CoilShape::flat, 4));
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_DOUBLE_EQ(places[i].z, 0.0);
    EXPECT_NEAR(places[i].r, 0.019 + 0.0075 * (static_cast<double>(i) + 0.5), 1e-15);
  }
}

// Property: the clear diameter of a cone runs from one bore to the other; a single turn takes the
// mean.
TEST(Winding, ConeRunsFromBoreToBore) {
  Coil coil = coil_of(CoilShape::cone, 5);
  coil.bore_end = 0.052;
  const auto places = ring_places(coil);
  EXPECT_NEAR(places.front().r, 0.019, 1e-15);
  EXPECT_NEAR(places[2].r, 0.024, 1e-15);
  EXPECT_NEAR(places.back().r, 0.029, 1e-15);
  EXPECT_LT(places.front().z, places.back().z);
  coil.turns = 1;
  EXPECT_NEAR(ring_places(coil).front().r, 0.024, 1e-15);
}

// Property: explicit rings keep the places given.
TEST(Winding, ExplicitRingsAsWritten) {
  Coil coil = coil_of(CoilShape::rings, 2);
  coil.rings = {{0.03, 0.01}, {0.025, -0.01}};
  const auto places = ring_places(coil);
  ASSERT_EQ(places.size(), 2U);
  EXPECT_DOUBLE_EQ(places[0].r, 0.03);
  EXPECT_DOUBLE_EQ(places[1].z, -0.01);
  EXPECT_DOUBLE_EQ(places[1].weight, 1.0);
}

// Property: the rough inductance is that of coaxial rings of thin skin. Of a long slender helix it
// is that of the current sheet mu0 N^2 A/l (closed form) times Nagaoka's coefficient, 0.9588 at
// diameter/length 0.1 (H. Nagaoka, J. Coll. Sci. Tokyo 27 art. 6, 1909; from memory), less Rosa's
// correction for round wires, mu0 R N (5/4 - ln(2p/d) + B), B = 0.333 at 150 turns, and 1/4 more
// for a thin skin (E. B. Rosa, Bull. Bur. Stand. 2, 161, 1906; from memory).
TEST(Winding, RoughInductanceOfALongHelix) {
  constexpr double radius = 0.015, length = 0.3, pitch = 0.002, wire = 0.0018;
  Coil coil = coil_of(CoilShape::helix, length / pitch);
  coil.conductor.section = RoundWire{wire};
  coil.pitch = pitch;
  coil.bore = 2 * radius - wire;
  const double sheet =
      mu0 * coil.turns * coil.turns * std::numbers::pi * radius * radius / length * 0.9588;
  const double rosa =
      mu0 * radius * coil.turns * (1.25 - std::log(2 * pitch / wire) + 0.333 + 0.25);
  EXPECT_NEAR(rough_inductance(coil) / (sheet - rosa), 1.0, 0.001);
}

}  // namespace
}  // namespace cw
