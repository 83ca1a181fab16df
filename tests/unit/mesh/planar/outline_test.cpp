#include "mesh/planar/outline.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

using Corners = std::vector<Point>;

Corners box(double r0, double r1, double z0, double z1) {
  return {{r0, z0}, {r1, z0}, {r1, z1}, {r0, z1}};
}

Corners reversed(const Corners& outline) {
  return {outline.rbegin(), outline.rend()};
}

const Corners cup = {{0, 0}, {4, 0}, {4, 5}, {3, 5}, {3, 1}, {0, 1}};

// Property: the sign of the area gives the orientation.
TEST(Polygon, AreaHasASign) {
  EXPECT_DOUBLE_EQ(area(box(1, 3, 0, 4)), 8.0);
  EXPECT_DOUBLE_EQ(area(reversed(box(1, 3, 0, 4))), -8.0);
}

// Property: area over the surface, ends included, without the axis: half a plate's thickness, a
// long rod's radius (as in law_validity()); zero for an outline without surface.
TEST(Polygon, HalfThickness) {
  EXPECT_DOUBLE_EQ(half_thickness(box(5, 7, 0, 10)), 20.0 / 24.0);
  EXPECT_DOUBLE_EQ(half_thickness(reversed(box(0, 2, 0, 10))), 20.0 / 14.0);
  EXPECT_NEAR(half_thickness(box(0, 2, 0, 1e6)), 2.0, 1e-5);
  EXPECT_EQ(half_thickness(Corners{{0, 0}, {0, 1}}), 0.0);
}

// Property: the boundary itself is not inside, whichever way round the corners go.
TEST(Polygon, InsideIsStrict) {
  for (const Corners& outline : {cup, reversed(cup)}) {
    EXPECT_TRUE(inside({3.5, 3}, outline));
    EXPECT_FALSE(inside({1, 3}, outline));  // in the hollow
    EXPECT_FALSE(inside({3, 3}, outline));  // on a side
    EXPECT_FALSE(inside({4, 5}, outline));  // on a corner
    EXPECT_FALSE(inside({5, 1}, outline));  // level with a side
  }
}

// Property: shared sides and corners are no overlap; any shared area is, however the corners fall.
TEST(Polygon, TouchingIsNoOverlap) {
  EXPECT_FALSE(overlap(cup, box(0, 3, 1, 4)));  // a charge that fills the cup
  EXPECT_FALSE(overlap(cup, box(4, 6, 0, 5)));  // a wrap along the whole side
  EXPECT_FALSE(overlap(cup, box(4, 6, 5, 6)));  // one corner in common
  EXPECT_FALSE(overlap(cup, box(0, 1, 2, 3)));  // free inside the hollow
  EXPECT_TRUE(overlap(cup, box(0, 3.1, 1, 4)));
  EXPECT_TRUE(overlap(cup, cup));
  EXPECT_TRUE(overlap(cup, reversed(cup)));
  EXPECT_TRUE(overlap(box(0, 4, 0, 1), box(1, 2, 0, 1)));  // same height, corners on the sides
  EXPECT_TRUE(overlap(box(0, 4, 0, 4), box(1, 2, 1, 2)));  // wholly inside
  EXPECT_TRUE(overlap(box(0, 4, 1, 2), box(1, 2, 0, 4)));  // a cross: no corner inside the other
}

// Property: a simple outline has no crossing; a bow tie, a spike and a touching corner have one.
TEST(Polygon, FindsCrossings) {
  EXPECT_FALSE(crossing(cup));
  EXPECT_FALSE(crossing(reversed(cup)));
  EXPECT_FALSE(crossing(Corners{{0, 0}, {1, 0}, {2, 0}, {2, 1}}));  // a corner on a straight side
  EXPECT_TRUE(crossing(Corners{{0, 0}, {2, 2}, {2, 0}, {0, 2}}));
  EXPECT_TRUE(crossing(Corners{{0, 0}, {4, 0}, {2, 0}, {2, 2}}));          // folds back
  EXPECT_TRUE(crossing(Corners{{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}));  // touches its own side
}

// Property: distances between a point, a side and a crossing pair.
TEST(Polygon, MeasuresDistances) {
  EXPECT_DOUBLE_EQ(distance(Point{0, 3}, Segment{{0, 0}, {4, 0}}), 3.0);
  EXPECT_DOUBLE_EQ(distance(Point{7, 4}, Segment{{0, 0}, {4, 0}}), 5.0);
  EXPECT_DOUBLE_EQ(distance(Segment{{0, 0}, {4, 0}}, Segment{{1, 1}, {3, 5}}), 1.0);
  EXPECT_DOUBLE_EQ(distance(Segment{{0, 0}, {4, 4}}, Segment{{0, 4}, {4, 0}}), 0.0);
}

}  // namespace
}  // namespace cw
