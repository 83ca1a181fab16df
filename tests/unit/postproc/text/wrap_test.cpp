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

// Property: a line that fits is unchanged; a longer one ends in "..." after its last whole word, a
// single word inside it; neither is wider than permitted.
TEST(Wrap, CutsALine) {
  EXPECT_EQ(cw::cut_line("aa bb cc", 8), "aa bb cc");
  EXPECT_EQ(cw::cut_line("aa bb ccc", 8), "aa ...");
  EXPECT_EQ(cw::cut_line("aa bb ccc", 9), "aa bb ccc");
  EXPECT_EQ(cw::cut_line("  abcdefghij", 8), "  ab ...");
  EXPECT_EQ(cw::cut_line("\u00b5\u00b5\u00b5\u00b5 \u00b5\u00b5\u00b5\u00b5", 8),
            "\u00b5\u00b5\u00b5\u00b5 ...");
}

}  // namespace
