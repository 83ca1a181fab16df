#include "postproc/text/summary_sections.hpp"

#include <gtest/gtest.h>

#include "tests/unit/postproc/sample_parts.hpp"

namespace cw {
namespace {

using sample::hard_pressed;

// Property: the terminal text has at most 80 columns and does not mention parts without data.
TEST(PartsText, KeepsToEightyColumns) {
  const std::string text = parts_text(hard_pressed()) +
                           commissioning_text({{{"empty_frequency", "Hz", 110e3, 103e3, 118e3}}});
  std::size_t begin = 0;
  while (begin < text.size()) {
    const std::size_t end = text.find('\n', begin);
    EXPECT_LE(end - begin, 80U) << text.substr(begin, end - begin);
    begin = end + 1;
  }
  EXPECT_EQ(parts_text({}), "");
}

}  // namespace
}  // namespace cw
