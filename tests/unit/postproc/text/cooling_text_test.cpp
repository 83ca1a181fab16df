#include "postproc/text/summary_sections.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "tests/unit/postproc/sample_cooling.hpp"

namespace cw {
namespace {

using sample::dry;
using sample::wet;

// The terminal's section fits 80 columns and names state, temperatures and times.
TEST(CoolingText, SaysWhatMatters) {
  for (const CoolingResult& c : {wet(), dry()}) {
    std::istringstream lines(cooling_text(c));
    for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 80U) << line;
  }
  const std::string text = cooling_text(wet());
  for (const char* words : {"at_target", "26.0 degC out", "70.0 K below boiling", "40.0 s"})
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
  EXPECT_NE(cooling_text(dry()).find("45.0 s"), std::string::npos);
}

}  // namespace
}  // namespace cw
