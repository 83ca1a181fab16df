#include "postproc/text/supply_table.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

namespace cw {
namespace {

// The next size above 1.25 times the demand, at the boundaries too; none above the largest.
TEST(SuggestedFuse, IsTheNextSizeUp) {
  EXPECT_EQ(suggested_fuse(0.1), 5.0);
  EXPECT_EQ(suggested_fuse(3.99), 5.0);
  EXPECT_EQ(suggested_fuse(4.0), 7.5);
  EXPECT_EQ(suggested_fuse(30.0), 40.0);
  EXPECT_EQ(suggested_fuse(79.9), 100.0);
  EXPECT_FALSE(suggested_fuse(80.0));
}

std::vector<SupplyChoice> two_choices() {
  SupplyChoice silent;
  silent.voltage = 12;
  silent.silent = {"state empty: the tank does not oscillate.",
                   "state cold: the tank will not ring."};
  SupplyChoice full;
  full.voltage = 36;
  full.own = full.rings = true;
  full.demand = 49.8;
  full.demand_state = "peak_demand";
  full.work_cold = 1050;
  full.switch_voltage_peak = 113;
  full.bank_current_rms = 117;
  full.least_loaded_q = 4.56;
  full.cable_loss = 12.3;
  full.nearest = {"feed choke", "current_peak_A", 25.5,          25.0,
                  1.02,         Verdict::stop,    "peak_demand", "A larger one."};
  return {silent, full};
}

// The table has at most 80 columns and says for each voltage what gives out, or that the tank will
// not ring.
TEST(SupplyText, FitsTheTerminalAndNamesThePart) {
  const std::string text = supply_text("A heater", two_choices());
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 80U) << line;
  EXPECT_NE(text.find("36*"), std::string::npos);
  EXPECT_NE(text.find("bank"), std::string::npos);  // no number of cans
  EXPECT_NE(text.find(">100"), std::string::npos);  // no fuse is large enough
  EXPECT_NE(text.find("36 V: stop, feed choke (peak demand):"), std::string::npos) << text;
  EXPECT_NE(text.find("12 V: state empty: the tank does not oscillate. The same in 1 more."),
            std::string::npos)
      << text;
}

// Every line of the table for spreadsheets has as many fields as its head.
TEST(SupplyTable, LinesHaveTheFieldsOfTheHead) {
  std::istringstream lines(supply_table(two_choices()));
  std::string head;
  std::getline(lines, head);
  int rows = 0;
  for (std::string line; std::getline(lines, line); ++rows)
    EXPECT_EQ(std::count(line.begin(), line.end(), ','), std::count(head.begin(), head.end(), ','))
        << line;
  EXPECT_EQ(rows, 2);
}

}  // namespace
}  // namespace cw
