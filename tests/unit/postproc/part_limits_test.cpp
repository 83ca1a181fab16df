#include "solver/limits/part_limits.hpp"
#include <gtest/gtest.h>

#include "postproc/text/parts_text.hpp"

namespace cw {
namespace {

const LimitResult& row_of(const std::vector<LimitResult>& rows, const std::string& part) {
  for (const LimitResult& r : rows)
    if (r.part == part) return r;
  throw std::out_of_range(part);
}

/// A conductor that runs away, a hot junction, a core without turns, a can of limited duty.
PartsResult hard_pressed() {
  PartsResult parts;
  parts.path.push_back({"track", 100, 1e-3, 10, 0.1, {}, 4.0, 0.03, "cold"});
  parts.junction = JunctionResult{20, Temperature::celsius(140), 5.5, {}, {}, "peak_demand"};
  parts.choke = ChokeResult{};
  parts.duty.push_back({"capacitor can", "empty", 5, Temperature::celsius(85), 90.0, 200.0, 0.4,
                        Temperature::celsius(180)});
  return parts;
}

// Property: what runs away or is too hot is a stop or a watch with a number that helps.
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

// Property: the terminal text keeps to 80 columns and says nothing of parts it has no data of.
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
