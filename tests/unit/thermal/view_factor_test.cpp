// View factors between coaxial cylinders.
#include "solver/thermal/view_factor.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace cw {
namespace {

/// Share of what a ring of the inner cylinder radiates that meets the outer from its own level to
/// `length`: cos cos/(pi s^2) integrated over the lines of sight that clear the inner cylinder.
double by_integration(CoaxialPair p, double length, int count) {
  const double widest = std::acos(p.inner / p.outer);
  double sum = 0;
  for (int i = 0; i < count; ++i)
    for (int j = 0; j < count; ++j) {
      const double angle = widest * (i + .5) / count, z = length * (j + .5) / count;
      const double x = p.outer * std::cos(angle) - p.inner;  // along the normal of the inner point
      const double square = x * x + std::pow(p.outer * std::sin(angle), 2) + z * z;
      const double facing = p.outer - p.inner * std::cos(angle);
      sum += x * facing / (std::numbers::pi * square * square);
    }
  return 2 * sum * p.outer * widest * length / (count * count);
}

// The view of a ring, derived from the published factor (Howell's catalogue C-91/C-92, Siegel and
// Howell), equals the direct integral of the definition.
TEST(ViewFactor, RingAgainstDirectIntegration) {
  for (const auto& [pair, length] : {std::pair{CoaxialPair{.007, .016}, .03},
                                     {{.007, .008}, .004},
                                     {{.5, 1.}, 2.},
                                     {{.5, 5.}, 1.}})
    EXPECT_NEAR(view_of_ring(pair, length), by_integration(pair, length, 1500), 2e-6);
}

// The published factor is the mean of the ring's view over the length (reciprocity and addition).
TEST(ViewFactor, MeanOfTheRings) {
  const CoaxialPair pair{.007, .016};
  const double length = .04;
  constexpr int count = 4000;
  double mean = 0;
  for (int i = 0; i < count; ++i) {
    const double z = length * (i + .5) / count;
    mean += (view_of_ring(pair, length - z) - view_of_ring(pair, -z)) / count;
  }
  EXPECT_NEAR(mean, view_inner_to_outer(pair, length), 1e-6);
}

// Half of all radiation goes to either side of a ring of an infinite pair, and none to zero length.
TEST(ViewFactor, Limits) {
  const CoaxialPair pair{.007, .016};
  EXPECT_NEAR(view_of_ring(pair, 10), .5, 1e-6);
  EXPECT_NEAR(view_of_ring(pair, 1e6), .5, 1e-12);
  EXPECT_EQ(view_of_ring(pair, 0), 0);
  EXPECT_EQ(view_of_ring(pair, -.01), -view_of_ring(pair, .01));
  EXPECT_NEAR(view_inner_to_outer(pair, 10), 1, 2e-3);
  EXPECT_LT(view_inner_to_outer(pair, 1e-5), 1e-3);
}

// The grey factor: black walls 1, an outer wall far away only the inner emissivity.
TEST(ViewFactor, GreyFactor) {
  EXPECT_EQ(grey_coaxial({1, 2}, 1, 1), 1);
  EXPECT_NEAR(grey_coaxial({1, 1e9}, .3, .1), .3, 1e-8);
  EXPECT_NEAR(grey_coaxial({1, 1 + 1e-12}, .5, .5), 1. / 3, 1e-9);
}

}  // namespace
}  // namespace cw
