#include "postproc/result/write_tables.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

// Property: a text that a spreadsheet would take for a formula is marked as text; numbers, with a
// unit or without, stay as they are.
TEST(TableField, HoldsNoFormula) {
  EXPECT_EQ(table_field("=1+1"), "'=1+1");
  EXPECT_EQ(table_field("=A1,\"x\""), "\"'=A1,\"\"x\"\"\"");
  EXPECT_EQ(table_field("+cmd|' /C calc'!A0"), "'+cmd|' /C calc'!A0");
  EXPECT_EQ(table_field("-2+3"), "'-2+3");
  EXPECT_EQ(table_field("@SUM(A1)"), "'@SUM(A1)");
  EXPECT_EQ(table_field("\t=1"), "'\t=1");
  EXPECT_EQ(table_field("\r=1"), "\"'\r=1\"");
  for (const char* plain : {"-1.2", "+5e-3", "-7.5 mm", "1=1", "a-b", "", "-1e-320"})
    EXPECT_EQ(table_field(plain), plain);
}

}  // namespace
}  // namespace cw
