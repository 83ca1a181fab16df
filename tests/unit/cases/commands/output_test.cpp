#include "cases/commands/output.hpp"

#include <gtest/gtest.h>

namespace cw::cases {
namespace {

// Property: what a terminal would obey is shown as text, every other letter and the lines stay.
TEST(Visible, ShowsControlCharacters) {
  EXPECT_EQ(visible("a\x1b[31mb\r\n\tc\x7f\b"), "a\\x1b[31mb\\x0d\n\tc\\x7f\\x08");
  EXPECT_EQ(visible("\xc2\x9b"
                    "2J"),
            "\\u009b2J");
  EXPECT_EQ(visible("\u202eabc\u2069\u2028"), "\\u202eabc\\u2069\\u2028");
  EXPECT_EQ(visible("20 \u00b0C, \u00b5, \u03a9, \u2013, \u00a0"),
            "20 \u00b0C, \u00b5, \u03a9, \u2013, \u00a0");
  EXPECT_EQ(visible(std::string("\0", 1)), "\\x00");
  EXPECT_EQ(visible("\xc2"), "\xc2");
  EXPECT_EQ(visible("\xe2\x80"), "\xe2\x80");
}

}  // namespace
}  // namespace cw::cases
