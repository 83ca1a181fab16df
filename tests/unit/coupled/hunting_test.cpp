#include "solver/coupled/hunting.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

Hunting after(int changes, bool alternating) {
  Hunting hunting;
  for (int k = 0; k < changes; ++k) hunting.note_change(alternating && k % 2 == 1 ? -50.0 : 50.0);
  return hunting;
}

// Power that only rises or only falls does not hunt, nor does power that reverses once. Power that
// reverses again and again does, after some intervals, and no longer some time after that stops.
TEST(Hunting, IsRepeatedReversalOfThePower) {
  EXPECT_FALSE(after(30, false).is_on());
  EXPECT_FALSE(after(3, true).is_on());
  Hunting hunting = after(30, true);
  EXPECT_TRUE(hunting.is_on());
  for (int k = 0; k < 10; ++k) hunting.note_change(10.0);
  EXPECT_FALSE(hunting.is_on());
}

// An interval is held to the usual unless the power hunts.
TEST(Hunting, ToleratesMoreWhileItIsOn) {
  EXPECT_EQ(after(30, false).leniency(), 1.0);
  EXPECT_EQ(after(30, true).leniency(), 5.0);
}

// The share of heat stored is that of the moment; while power hunts, it is that of the recent heat,
// which a single moment hardly changes.
TEST(Hunting, ShareKeptIsARecentMean) {
  Hunting calm;
  EXPECT_DOUBLE_EQ(calm.share_kept(400.0, 100.0, 1.0), 0.75);
  EXPECT_DOUBLE_EQ(calm.share_kept(150.0, 150.0, 1.0), 0.0);
  Hunting hunting = after(30, true);
  for (int k = 0; k < 100; ++k) hunting.share_kept(k % 2 == 0 ? 400.0 : 100.0, 150.0, 0.5);
  EXPECT_NEAR(hunting.share_kept(150.0, 150.0, 0.5), 0.4, 0.03);  // (250 - 150)/250
}

// A look ahead is worthwhile each time the share stored has halved, and only while power hunts.
TEST(Hunting, LooksAheadWheneverTheShareHalves) {
  EXPECT_FALSE(after(30, false).worth_a_look(0.01));
  Hunting hunting = after(30, true);
  EXPECT_FALSE(hunting.worth_a_look(0.9));
  EXPECT_TRUE(hunting.worth_a_look(0.5));
  EXPECT_FALSE(hunting.worth_a_look(0.3));
  EXPECT_TRUE(hunting.worth_a_look(0.2));
}

}  // namespace
}  // namespace cw
