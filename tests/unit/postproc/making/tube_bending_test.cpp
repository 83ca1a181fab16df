#include "postproc/making/tube_bending.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace {

// Property: a solid bar of 6 mm at 19 mm radius opens by the figure worked out by hand from the
// source of the function: strain 3/19, flow stress 315 MPa (3/19)^0.54 = 116.3 MPa, plastic section
// 6^3/6 = 36 mm3, I = 63.62 mm4, so 36 x 116.3 / (117000 x 63.62) x 19 = 1.068 %.
TEST(SpringBack, IsThatOfBeamTheory) {
  EXPECT_NEAR(cw::spring_back(6e-3, 3e-3, 19e-3), 0.010684, 1e-6);
}

// Property: a wider bend of the same tube springs open more, by the power of the radius the flow
// law leaves; scaling everything changes nothing.
TEST(SpringBack, GrowsWithTheRadius) {
  const double near = cw::spring_back(6e-3, 1e-3, 15e-3), far = cw::spring_back(6e-3, 1e-3, 60e-3);
  EXPECT_NEAR(far / near, std::pow(4.0, 1.0 - 0.54), 1e-9);
  EXPECT_NEAR(cw::spring_back(12e-3, 2e-3, 30e-3), near, 1e-12);
}

}  // namespace
