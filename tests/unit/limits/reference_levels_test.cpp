#include "solver/limits/reference_levels.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

// Levels as printed: public 27 uT and occupational 100 uT at 50 kHz (ICNIRP 2010); at 1 MHz the
// local public level of ICNIRP 2020, 4.9 A/m, is the strictest.
TEST(ReferenceLevels, AsPrinted) {
  const auto low = reference_levels({50e3});
  ASSERT_EQ(low.size(), 2U);
  EXPECT_NEAR(low[0].flux_rms, 27e-6, 1e-12);
  EXPECT_NEAR(low[1].flux_rms, 100e-6, 1e-12);
  EXPECT_NEAR(reference_levels({1e6}).front().flux_rms, 4.9 * mu0, 1e-12);
  EXPECT_NEAR(reference_levels({1e3})[0].flux_rms, 80e-6, 1e-12);
  EXPECT_TRUE(reference_levels({20e6}).empty());
}

}  // namespace
}  // namespace cw
