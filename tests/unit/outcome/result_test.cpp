#include "solver/outcome/result.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

// Every part of the balance counts once, and a missing part counts as zero: powers of two, so that
// no other set of parts has the same sum.
TEST(PowerBalance, SumsEveryPartOnce) {
  PowerBalance balance;
  EXPECT_EQ(balance.sum(), 0.0);
  balance.coil = 1;
  balance.leads = 2;
  EXPECT_EQ(balance.sum(), 3.0);
  balance.workpiece = 4;
  balance.bodies = {{"shield", 8}, {"core", 16}};
  balance.joints = 32;
  balance.capacitors = 64;
  balance.switches = 128;
  balance.chokes = 256;
  balance.cable = 512;
  balance.battery = 1024;
  EXPECT_EQ(balance.sum(), 2047.0);
}

}  // namespace
}  // namespace cw
