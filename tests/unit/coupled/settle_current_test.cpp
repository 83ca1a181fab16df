#include "solver/coupled/settle_current.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>

namespace cw {
namespace {

// A coil that saturates so far that its voltage goes with the 0.03rd power of the current is found
// too, from a guess a hundred times too small: I = (V/Z0)^(1/0.03), by hand.
TEST(SettleCurrent, FindsACoilWhoseVoltageHardlyFollowsTheCurrent) {
  int calls = 0;
  const double found = settle_current({{1e3}, false, 2.0}, 1.0, 1e-9, [&](double current) {
    ++calls;
    return std::complex<double>(0.0, 1.8 * std::pow(current, 0.03 - 1.0));
  });
  EXPECT_NEAR(found, std::pow(2.0 / 1.8, 1.0 / 0.03), 1e-6 * found);
  EXPECT_LE(calls, 8);
  EXPECT_EQ(settle_current({{1e3}, true, 7.0}, 1.0, 1e-9,
                           [](double) { return std::complex<double>(1.0, 0.0); }),
            7.0);
}

}  // namespace
}  // namespace cw
