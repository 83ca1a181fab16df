#include "solver/limits/part_limits.hpp"

#include <gtest/gtest.h>

#include "tests/unit/postproc/sample_parts.hpp"

namespace cw {
namespace {

const LimitResult& row_of(const std::vector<LimitResult>& rows, const std::string& part) {
  for (const LimitResult& r : rows)
    if (r.part == part) return r;
  throw std::out_of_range(part);
}

using sample::hard_pressed;

// Property: a part without steady temperature, or too hot, gets `stop` or `watch`, with advice that
// contains a number.
TEST(PartLimits, JudgeRisesAndSayWhatHelps) {
  PushPullDrive drive;
  drive.transistor.heat_sink.emplace().junction_limit = Temperature::celsius(150);
  Heater heater;
  heater.drive = drive;
  const auto rows = part_limits(hard_pressed(), heater);
  EXPECT_EQ(row_of(rows, "track").verdict, Verdict::stop);
  EXPECT_NE(row_of(rows, "track").advice.find("4.00 s"), std::string::npos);
  EXPECT_NE(row_of(rows, "track").advice.find("30.0 mm"), std::string::npos);
  EXPECT_EQ(row_of(rows, "switch on its heat sink").verdict, Verdict::watch);  // 120 K of 130 K
  EXPECT_EQ(row_of(rows, "feed choke, ring core").verdict, Verdict::stop);
  EXPECT_EQ(row_of(rows, "capacitor can").verdict, Verdict::stop);
}

// Property: no limit is invented for a junction without a rating.
TEST(PartLimits, InventNoRating) {
  const auto rows = part_limits(hard_pressed(), Heater{});
  EXPECT_FALSE(row_of(rows, "switch on its heat sink").limit);
}

}  // namespace
}  // namespace cw
