// Stray field of straight conductors and loops, and what a ring takes up in it.
#include "solver/circuit/filaments.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "materials/quantity.hpp"
#include "solver/circuit/dummy_ring.hpp"

namespace cw {
namespace {

constexpr double pi = std::numbers::pi;

std::vector<Filament> polygon(int sides, double radius) {
  std::vector<Filament> loop;
  const auto corner = [&](int k) {
    return Vector3{radius * std::cos(2 * pi * k / sides), radius * std::sin(2 * pi * k / sides), 0};
  };
  for (int k = 0; k < sides; ++k) loop.push_back({corner(k), corner(k + 1), 1.0});
  return loop;
}

// Two rings against each other: the printed example, by the ring formula and by many filaments.
TEST(StrayField, TwoLoopsOfTheTextbook) {
  // OpenStax, University Physics vol. 2, example 12.6 (from memory): loops of 50 and 100 cm with 10
  // mA each, against each other, at 25 and 75 cm: 5.77e-9 T.
  const double rings = 10e-3 * (flux_on_ring_axis(0.5, 0.25) - flux_on_ring_axis(1.0, 0.75));
  EXPECT_NEAR(rings, 5.77e-9, 0.01e-9);
  const double wires = 10e-3 * (flux_of_filaments(polygon(720, 0.5), {0, 0, 0.25})[2] -
                                flux_of_filaments(polygon(720, 1.0), {0, 0, 0.75})[2]);
  EXPECT_NEAR(wires, rings, 1e-4 * rings);
}

// The centre of a square loop of side s: 2 sqrt(2) mu0/(pi s), closed form.
TEST(StrayField, CentreOfASquare) {
  const double side = 0.2;
  const double b = flux_of_filaments(polygon(4, side / std::sqrt(2.0)), {0, 0, 0})[2];
  EXPECT_NEAR(b, 2 * std::sqrt(2.0) * mu0 / (pi * side), 1e-15);
}

// On its own line a wire makes no field.
TEST(StrayField, NothingOnTheLineOfTheWire) {
  const Vector3 b = flux_of_filaments({{{0, 0, 0}, {0, 0, 1}, 1.0}}, {0, 0, 2});
  EXPECT_EQ(b, (Vector3{}));
}

// A copper ring's power by transformer action: R2 and L2 of the closed form of a shorted ring.
TEST(DummyRing, ShortedRingInClosedForm) {
  // Reflected resistance w^2 M^2 R2/(R2^2 + (w L2)^2) of a 20 mm copper ring of 1 mm wire radius
  // 10 mm above a loop of 30 mm: M = 23.693 nH, 0.080269 uohm at 50 Hz; evaluated from the closed
  // form (Maxwell, Treatise art. 701 and 704).
  const DummyRing ring{20e-3, 1e-3, 20e-3 * 2 / (1e-6 * 0.6892239e-3), 1.0};
  EXPECT_NEAR(ring_power(ring, {50}, 23.693002e-9), 0.080269448e-6, 1e-3 * 0.080269448e-6);
}

// Where the skin is thin the resistance grows with the root of the frequency.
TEST(DummyRing, ThinSkin) {
  const DummyRing ring{10e-3, 1e-3, 5e6, 100};
  EXPECT_NEAR(ring_impedance(ring, {400e3}).resistance_ohm,
              2 * ring_impedance(ring, {100e3}).resistance_ohm, 1e-9);
}

}  // namespace
}  // namespace cw
