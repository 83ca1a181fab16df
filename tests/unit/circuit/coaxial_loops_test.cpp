#include "solver/circuit/coaxial_loops.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "materials/quantity.hpp"

namespace {

// Mutual inductances of the standard pairs. Source: evaluated from Maxwell's closed form; the first
// two are worked examples of Rosa & Grover, Bull. Bur. Stand. 8 (1911), 1036.66 and 248.79 nH (from
// memory).
TEST(CoaxialLoops, AgreeWithMaxwellsFormula) {
  EXPECT_NEAR(1e9 * cw::coaxial_mutual(0.250, 0.250, 0.010), 1036.664849, 1e-6);
  EXPECT_NEAR(1e9 * cw::coaxial_mutual(0.250, 0.200, 0.100), 248.787359, 1e-6);
  EXPECT_NEAR(1e9 * cw::coaxial_mutual(0.250, 0.250, 0.040), 606.0676284, 1e-7);
  EXPECT_NEAR(1e9 * cw::coaxial_mutual(0.025, 0.025, 0.009), 36.68906957, 1e-8);
  EXPECT_NEAR(1e9 * cw::coaxial_mutual(0.030, 0.020, 0.010), 23.69300167, 1e-8);
  EXPECT_NEAR(1e9 * cw::coaxial_mutual(0.050, 0.020, 0.000), 16.84625697, 1e-8);
}

// Far loops become dipoles, M = mu0 pi r1^2 r2^2/(2 z^3), without loss of figures.
TEST(CoaxialLoops, FarLoopsAreDipoles) {
  const double z = 1e4;
  const double dipole = cw::mu0 * std::numbers::pi * std::pow(0.02 * 0.03, 2) / (2.0 * z * z * z);
  EXPECT_NEAR(cw::coaxial_mutual(0.02, 0.03, z) / dipole, 1.0, 1e-10);
}

}  // namespace
