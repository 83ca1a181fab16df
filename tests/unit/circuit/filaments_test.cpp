// Stray field of straight conductors and loops.
#include "solver/circuit/filaments.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "materials/quantity.hpp"

namespace cw {
namespace {

using std::numbers::pi;

std::vector<Filament> polygon(int sides, double radius) {
  std::vector<Filament> loop;
  const auto corner = [&](int k) {
    return Vector3{radius * std::cos(2 * pi * k / sides), radius * std::sin(2 * pi * k / sides), 0};
  };
  for (int k = 0; k < sides; ++k) loop.push_back({corner(k), corner(k + 1), 1.0});
  return loop;
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

}  // namespace
}  // namespace cw
