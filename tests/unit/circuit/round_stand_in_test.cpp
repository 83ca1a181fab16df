#include "solver/circuit/round_stand_in.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace cw {
namespace {

// Far wider than thick, a bar is a plate: the power of a plate in a field on both sides. Source:
// closed form of the plate, (sinh x - sin x)/(cosh x + cos x), x its thickness in skin depths.
TEST(RoundStandIn, WideBarIsAPlate) {
  for (const double x : {1.0, 2.0, 3.0, 6.0}) {
    const double plate = (std::sinh(x) - std::sin(x)) / (std::cosh(x) + std::cos(x));
    // The two narrow ends take part in the surface, not in the power.
    const double width = 100 * x;
    EXPECT_NEAR(rectangle_power(width, x) * (1 + x / width), plate, 0.02 * plate) << x;
  }
}

// A round bar has the known power. Source: evaluated from the closed form of the solid cylinder, F
// at a/d = 1, 3, 10: 0.22441027, 0.83346698, 0.94938102.
TEST(RoundStandIn, RoundBarIsTheSolidCylinder) {
  EXPECT_NEAR(round_power(2), 0.22441027, 1e-8);
  EXPECT_NEAR(round_power(6), 0.83346698, 1e-8);
  EXPECT_NEAR(round_power(20), 0.94938102, 1e-8);
}

// Thin skin: both take the power of their surface, and the error of the round bar is below a few
// percent for sides of at least ten skin depths. Thick skin: it takes too much, since its section
// is larger.
TEST(RoundStandIn, ErrsLittleWhereTheSkinIsThin) {
  EXPECT_NEAR(rectangle_power(200, 200), 1.0, 0.02);
  const RoundStandIn thin = round_stand_in(BarSection::square, 12e-3, 0, 0.2e-3);
  EXPECT_LT(std::abs(thin.power_error), 0.03);
  EXPECT_NEAR(thin.diameter, 4 * 12e-3 / 3.14159265, 1e-8);
  EXPECT_NEAR(thin.mass_ratio, 0.7854, 1e-4);
  EXPECT_GT(round_stand_in(BarSection::flat, 20e-3, 3e-3, 2e-3).power_error, 0.2);
}

// A hexagon is between square and circle.
TEST(RoundStandIn, HexagonIsNearlyRound) {
  const RoundStandIn hexagon = round_stand_in(BarSection::hexagon, 17e-3, 0, 0.2e-3);
  EXPECT_NEAR(hexagon.diameter, 18.745e-3, 0.005e-3);
  EXPECT_GT(hexagon.mass_ratio, 0.9);
  EXPECT_LT(hexagon.mass_ratio, 1.0);
}

}  // namespace
}  // namespace cw
