#include "cases/wording.hpp"

#include <gtest/gtest.h>

namespace cw::cases {
namespace {

// Property: values have the prefix that a maker would choose, and lengths are never in kilometres.
TEST(Wording, ChoosesThePrefix) {
  EXPECT_EQ(in_words(0.032, Dimension::length), "32 mm");
  EXPECT_EQ(in_words(0.0, Dimension::length), "0 mm");
  EXPECT_EQ(in_words(-0.007, Dimension::length), "-7 mm");
  EXPECT_EQ(in_words(5000.0, Dimension::length), "5000 m");
  EXPECT_EQ(in_words(2e-6, Dimension::capacitance), "2 uF");
  EXPECT_EQ(in_words(0.99999, Dimension::voltage), "1 V");
  EXPECT_EQ(in_words(110e3, Dimension::frequency), "110 kHz");
  EXPECT_EQ(in_words(1093.15, Dimension::temperature), "820 degC");
  EXPECT_EQ(in_words(0.5 / 60e3, Dimension::flow), "0.5 L/min");
  EXPECT_EQ(in_words(0.8, Dimension::number), "0.8");
}

}  // namespace
}  // namespace cw::cases
