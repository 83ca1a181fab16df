#include "materials/copper_tube.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

double usual_wall_mm(double diameter_mm) {
  const auto tube = usual_copper_tube(1e-3 * diameter_mm);
  return tube ? 1e3 * tube->wall : 0.0;
}

// Property: tubes in millimetres have a wall that their standard lists for the diameter.
// Source: EN 1057, table 1: 1.0 mm is among the walls of 6, 8, 10, 12, 15, 16, 18 and 22 mm.
TEST(CopperTube, HasTheMetricWalls) {
  for (const double mm : {6.0, 8.0, 10.0, 12.0, 15.0, 16.0, 18.0, 22.0})
    EXPECT_DOUBLE_EQ(usual_wall_mm(mm), 1.0) << mm;
}

// Property: tubes in inches have bores as their standard prints them, to its last digit.
// Source: ASTM B280, annealed coils: bores of 1/8 0.065, 1/4 0.190, 3/8 0.311, 1/2 0.436, 5/8
// 0.555, 3/4 0.680, 7/8 0.785 inch.
TEST(CopperTube, HasTheBoresInInches) {
  const auto bore = [](double inches) {
    const auto tube = usual_copper_tube(25.4e-3 * inches);
    return tube ? (tube->diameter - 2 * tube->wall) / 25.4e-3 : 0.0;
  };
  EXPECT_NEAR(bore(0.125), 0.065, 1e-9);
  EXPECT_NEAR(bore(0.250), 0.190, 1e-9);
  EXPECT_NEAR(bore(0.375), 0.311, 1e-9);
  EXPECT_NEAR(bore(0.500), 0.436, 1e-9);
  EXPECT_NEAR(bore(0.625), 0.555, 1e-9);
  EXPECT_NEAR(bore(0.750), 0.680, 1e-9);
  EXPECT_NEAR(bore(0.875), 0.785, 1e-9);
}

// Property: a tube in inches stated in rounded millimetres is found, and never taken for the metric
// one beside it.
TEST(CopperTube, TellsInchesFromMillimetres) {
  EXPECT_NEAR(usual_wall_mm(9.52), 0.8128, 1e-9);
  EXPECT_NEAR(usual_wall_mm(15.88), 0.889, 1e-9);
  EXPECT_NEAR(usual_wall_mm(7.94), 0.8128, 1e-9);
  EXPECT_NEAR(usual_wall_mm(22.2), 1.143, 1e-9);
  EXPECT_DOUBLE_EQ(usual_wall_mm(8.0), 1.0);
  EXPECT_DOUBLE_EQ(usual_wall_mm(22.0), 1.0);
}

// Property: a diameter in which no tube is sold has no usual wall.
TEST(CopperTube, KnowsNoOtherDiameter) {
  for (const double mm : {0.0, 3.0, 7.0, 9.6, 20.0, 28.0}) EXPECT_EQ(usual_wall_mm(mm), 0.0) << mm;
  EXPECT_EQ(usual_copper_tubes(),
            "4, 5, 6, 8, 10, 12, 15, 16, 18, 22 mm and 1/8, 3/16, 1/4, 5/16, 3/8, 1/2, 5/8, 3/4, "
            "7/8 inch");
}

}  // namespace
}  // namespace cw
