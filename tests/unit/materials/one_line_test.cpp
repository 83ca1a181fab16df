#include "materials/one_line.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

// Property: letters of every length pass unchanged, the last code point of each length included.
TEST(OneLine, LeavesLettersAlone) {
  for (const char* text : {"", "plain ~", "\xc3\xa9 \xc2\xb5", "\xe2\x84\xa6 \xef\xbf\xbf",
                           "\xed\x9f\xbf \xee\x80\x80", "\xf0\x9f\x94\xa5 \xf4\x8f\xbf\xbf"})
    EXPECT_EQ(one_line(text), text);
}

// Property: controls become one '?' each. ECMA-48, 5.3: U+009B is the control sequence introducer,
// as ESC [ is; Unicode Standard, 23.1 and 23.2: line and paragraph separator, override of
// direction.
TEST(OneLine, ControlsAreNotPassedOn) {
  EXPECT_EQ(one_line("a\x1b[2J\n\t\r\x7f"), "a?[2J????");
  EXPECT_EQ(one_line("a\xc2\x80 \xc2\x9b \xc2\x9f \xc2\xa0"), "a? ? ? \xc2\xa0");
  EXPECT_EQ(one_line("\xe2\x80\xa8\xe2\x80\xa9 \xe2\x80\xae \xe2\x81\xa6"), "?? ? ?");
}

// Property: bytes that are not UTF-8 become '?', the rest stays (RFC 3629, section 4: cut short,
// too long, surrogates, beyond U+10FFFF, a tail alone).
TEST(OneLine, BrokenLettersAreMended) {
  EXPECT_EQ(one_line("a\xc3"), "a?");
  EXPECT_EQ(one_line("\xe2\x82z"), "??z");
  EXPECT_EQ(one_line("\xc0\xaf"), "??");
  EXPECT_EQ(one_line("\xe0\x80\xaf"), "???");
  EXPECT_EQ(one_line("\xed\xa0\x80"), "???");
  EXPECT_EQ(one_line("\xf4\x90\x80\x80"), "????");
  EXPECT_EQ(one_line("\x9b"), "?");
}

}  // namespace
}  // namespace cw
