#include "postproc/result/history_table.hpp"

#include <gtest/gtest.h>

#include "postproc/result/read_result.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

// Property: a history written and read back is the same to the last digit; inapplicable values stay
// empty.
TEST(HistoryTable, GivesBackWhatWasWritten) {
  cw::HeatResult heat = *cw::sample::full_result().heat;
  heat.lines[0].time = 1.0 / 3.0;
  for (cw::HeatLine& line : heat.lines) line.thermometer.reset();
  const std::string table = cw::history_table(heat);
  cw::HeatResult again;
  again.lines = cw::read_history(table, "history.csv");
  ASSERT_EQ(again.lines.size(), heat.lines.size());
  EXPECT_EQ(again.lines[0].time, 1.0 / 3.0);
  EXPECT_EQ(again.lines[1].demand, heat.lines[1].demand);
  EXPECT_FALSE(again.lines[0].thermometer);
  EXPECT_EQ(cw::history_table(again), table);
}

// Property: temperatures and molten shares of several bodies are read back, each for its own body.
TEST(HistoryTable, GivesBackTheBodies) {
  cw::HeatResult heat;
  heat.bodies = {{"workpiece", {}}, {"charge, hot", {}}};
  heat.bodies[1].at_end.molten = 0.0;
  cw::HeatLine& line = heat.lines.emplace_back();
  line.bodies = {{1000.0, 1100.0, 900.0, {}}, {600.0, 610.0, 590.0, 0.25}};
  const auto lines = cw::read_history(cw::history_table(heat), "history.csv");
  ASSERT_EQ(lines.size(), 1U);
  ASSERT_EQ(lines[0].bodies.size(), 2U);
  EXPECT_EQ(lines[0].bodies[0].hottest, 1100.0);
  EXPECT_FALSE(lines[0].bodies[0].molten);
  EXPECT_EQ(lines[0].bodies[1].mean, 600.0);
  EXPECT_EQ(lines[0].bodies[1].coldest, 590.0);
  EXPECT_EQ(lines[0].bodies[1].molten, 0.25);
}

// Property: a damaged line is named by file and number.
TEST(HistoryTable, NamesTheDamage) {
  const auto complaint = [](const std::string& table) -> std::string {
    try {
      cw::read_history(table, "history.csv");
    } catch (const cw::ResultFileError& error) {
      return error.what();
    }
    return "";
  };
  EXPECT_EQ(complaint("time [s],surface [K]\n1,2\n3\n"),
            "history.csv:3: has 1 values where the first line names 2.");
  EXPECT_EQ(complaint("time [s],surface [K]\n1,two\n"), "history.csv:2: \"two\" is no number.");
  EXPECT_EQ(complaint("time [s],surface [K]\n1,nan\n"), "history.csv:2: \"nan\" is no number.");
  EXPECT_EQ(complaint("time [s],unheard of [K]\n1,2\n"), "");
}

}  // namespace
