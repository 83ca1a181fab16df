// Progress of a sweep when the output goes into a file.
#include "cases/commands/progress.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace cw::cases {
namespace {

// A line is written after each pause and states what is done and how long the rest takes; reports
// in between are dropped.
TEST(SweepLines, ComeAfterThePause) {
  SweepProgress progress;
  progress.total = 40;
  progress.done = progress.fresh = 10;
  progress.seconds = 60.0;
  testing::internal::CaptureStderr();
  const SweepListener often = sweep_lines(std::chrono::milliseconds(0));
  often(progress);
  const SweepListener seldom = sweep_lines(std::chrono::hours(1));
  for (int k = 0; k < 5; ++k) seldom(progress);
  const std::string text = testing::internal::GetCapturedStderr();
  EXPECT_EQ(std::ranges::count(text, '\n'), 1) << text;
  EXPECT_NE(text.find("10 of 40, 3:00 left"), std::string::npos) << text;
}

}  // namespace
}  // namespace cw::cases
