#include "materials/figures.hpp"

#include <gtest/gtest.h>

namespace {

// Property: paper shows three significant figures and the prefix that keeps the number between 1
// and 1000, also where rounding carries over into the next prefix.
TEST(Figures, ThreeSignificantWithPrefix) {
  EXPECT_EQ(cw::figure(1.0234e-6, "H"), "1.02 uH");
  EXPECT_EQ(cw::figure(0.0234, "ohm"), "23.4 mohm");
  EXPECT_EQ(cw::figure(999.6, "Hz"), "1.00 kHz");
  EXPECT_EQ(cw::figure(999.4, "Hz"), "999 Hz");
  EXPECT_EQ(cw::figure(100.0, "A"), "100 A");
  EXPECT_EQ(cw::figure(2e-6 / 20.0, "F"), "100 nF");
  EXPECT_EQ(cw::figure(1000.0 * (1.0 - 1e-15), "Hz"), "1.00 kHz");
  EXPECT_EQ(cw::figure(-1.6e-9, "H"), "-1.60 nH");
  EXPECT_EQ(cw::figure(0.0, "W"), "0 W");
  EXPECT_EQ(cw::figure(2e12, "W"), "2000 GW");
}

// Property: without a prefix the digits beyond three are zeros, never invented.
TEST(Figures, WithoutPrefix) {
  EXPECT_EQ(cw::figure(0.012345), "0.0123");
  EXPECT_EQ(cw::figure(1523.0), "1520");
  EXPECT_EQ(cw::figure(9.996), "10.0");
  EXPECT_EQ(cw::figure_short(0.5), "0.5");
  EXPECT_EQ(cw::figure_short(400.0), "400");
  EXPECT_EQ(cw::percent(0.8423), "84.2 %");
}

// Property: a drawing shows sizes without superfluous zeros and never a minus zero.
TEST(Figures, Millimetres) {
  EXPECT_EQ(cw::millimetres(32e-3), "32");
  EXPECT_EQ(cw::millimetres(7.5e-3), "7.5");
  EXPECT_EQ(cw::millimetres(100e-3), "100");
  EXPECT_EQ(cw::millimetres(-1e-9), "0");
}

}  // namespace
