// The bodies that are nearest to the axis.
#include "mesh/cores.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

// A rod hides the turns round it; its radius counts, although it extends to the axis.
TEST(Cores, OfARodInACoilIsTheRod) {
  Section section;
  section.regions.push_back({"turn.1", Disc{{.02, .005}, .003}});
  section.regions.push_back({"workpiece", rectangle({0, -.05}, {.006, .05})});
  const auto cores = cores_of(section);
  ASSERT_EQ(cores.size(), 1U);
  EXPECT_DOUBLE_EQ(cores[0].radius, .006);
  EXPECT_DOUBLE_EQ(cores[0].low, -.05);
  EXPECT_DOUBLE_EQ(cores[0].high, .05);
}

// A body beside a rod along the axis is a core of its own; for a pipe its bore counts.
TEST(Cores, StandBesideEachOther) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, 0}, {.002, .05})});
  section.regions.push_back({"pipe", rectangle({.004, -.06}, {.006, -.02})});
  const auto cores = cores_of(section);
  ASSERT_EQ(cores.size(), 2U);
  EXPECT_DOUBLE_EQ(cores[0].radius, .002);
  EXPECT_DOUBLE_EQ(cores[1].radius, .004);
  EXPECT_DOUBLE_EQ(cores[1].low, -.06);
}

// Balls, round turns, stepped and pointed bodies and cups show no cylinder along their whole
// height.
TEST(Cores, AreCylindersAlone) {
  Section section;
  section.regions.push_back({"ball", Disc{{0, .09}, .01}});
  section.regions.push_back({"turn.1", Disc{{.05, .09}, .01}});
  section.regions.push_back(
      {"stepped", Polygon{{{0, 0}, {.01, 0}, {.01, .02}, {.006, .02}, {.006, .03}, {0, .03}}, {}}});
  section.regions.push_back({"tip", Polygon{{{0, -.03}, {.01, -.02}, {.01, -.01}, {0, -.01}}, {}}});
  EXPECT_TRUE(cores_of(section).empty());
}

// Nothing there, no core.
TEST(Cores, OfNothingAreNone) {
  EXPECT_TRUE(cores_of({}).empty());
}

}  // namespace
}  // namespace cw
