#include "postproc/text/wrap.hpp"

#include <gtest/gtest.h>

namespace {

// Property: wrapping keeps every word, indents, and counts characters, not bytes.
TEST(Wrap, KeepsWordsAndWidth) {
  EXPECT_EQ(cw::wrapped("aa bb cc", {5, 0, 1}), "aa bb\n cc\n");
  EXPECT_EQ(cw::wrapped("\u00b5\u00b5\u00b5\u00b5\u00b5 x", {5, 0, 0}),
            "\u00b5\u00b5\u00b5\u00b5\u00b5\nx\n");
  EXPECT_EQ(cw::wrapped("abcdefgh", {5, 0, 0}), "abcde\nfgh\n");
  EXPECT_EQ(cw::wrapped("", {5, 0, 0}), "");
}

}  // namespace
