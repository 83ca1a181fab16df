#include "solver/run/coil_tube.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace cw {
namespace {

// Length and bore of the tube by hand: six turns of 46 mm with 8 mm of pitch, leads and closing
// run.
TEST(CoilTube, LengthByHand) {
  Coil coil;
  coil.turns = 6;
  coil.bore = 0.040;
  coil.pitch = 0.008;
  coil.conductor.section = RoundTube{0.006, 0.001};
  coil.leads.emplace();
  coil.leads->length = 0.150;
  coil.leads->spacing = 0.020;
  const CoilTube tube = coil_tube(coil);
  const double turn = std::hypot(std::numbers::pi * 46e-3, 8e-3);
  EXPECT_NEAR(tube.length, 6 * turn + 2 * 0.15 + 6 * 8e-3, 1e-6);
  EXPECT_NEAR(tube.bore->hydraulic_diameter(), 4e-3, 1e-12);
}

}  // namespace
}  // namespace cw
