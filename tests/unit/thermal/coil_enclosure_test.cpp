// Where the radiation of a rod in a coil ends.
#include "solver/thermal/coil_enclosure.hpp"

#include <gtest/gtest.h>

#include "solver/thermal/view_factor.hpp"

namespace cw {
namespace {

// In a long cylinder a rod loses the heat that long coaxial cylinders exchange; metal and openings
// share it in proportion to what they absorb and pass.
TEST(CoilEnclosure, LongCylinder) {
  const OpenWall wall{.1, .2};
  const CoilEnclosure coil({.006, -9, 9, .8, .013, -1, 1, wall});
  const Fate fate = coil.from(.01);
  const double lost = grey_coaxial({.006, .013}, .8, .3) / .8;
  EXPECT_NEAR(fate.cylinder, lost / 3, 1e-3);
  EXPECT_NEAR(fate.beyond, 2 * lost / 3, 1e-3);
}

// A black cylinder absorbs everything that reaches it, and far beyond its ends everything escapes.
TEST(CoilEnclosure, BlackCylinder) {
  const CoilEnclosure coil({.006, -.1, .1, .8, .013, -.03, .03, {1, 0}});
  const CoaxialPair pair{.006, .013};
  const double met = view_of_ring(pair, .02) - view_of_ring(pair, -.04);
  EXPECT_NEAR(coil.from(.01).cylinder, met, 1e-12);
  EXPECT_NEAR(coil.from(.01).beyond, 1 - met, 1e-12);
  EXPECT_NEAR(coil.from(1).beyond, 1, 1e-3);
}

// In a perfect mirror nothing is lost but by its ends, and that without a rod beyond them to catch
// it more than with one.
TEST(CoilEnclosure, Mirror) {
  const OpenWall mirror{0, 0};
  const CoilEnclosure shorter({.006, -.03, .03, .8, .013, -.03, .03, mirror}),
      longer({.006, -.3, .3, .8, .013, -.03, .03, mirror});
  EXPECT_EQ(shorter.from(0).cylinder, 0);
  const CoilEnclosure endless({.006, -9, 9, .8, .013, -1, 1, mirror});
  EXPECT_NEAR(endless.from(0).beyond, 0, 1e-3);
  EXPECT_GT(shorter.from(.028).beyond, 1.02 * longer.from(.028).beyond);
  EXPECT_LT(shorter.from(.028).beyond, 1);
}

// A ring of the cylinder sees itself, the rod and nothing else when both are endless.
TEST(ViewFactor, AlongTheWall) {
  for (const CoaxialPair pair : {CoaxialPair{.007, .016}, {.5, 5.}, {.007, .0071}}) {
    EXPECT_NEAR(2 * view_along_wall(pair, 1e3), 1 - pair.inner / pair.outer, 1e-4);
    EXPECT_EQ(view_along_wall(pair, 0), 0);
    EXPECT_EQ(view_along_wall(pair, -.01), -view_along_wall(pair, .01));
  }
}

}  // namespace
}  // namespace cw
