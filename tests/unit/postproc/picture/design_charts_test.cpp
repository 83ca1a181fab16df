#include "postproc/picture/design_charts.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

/// Two keys; the second figure costs more the larger the first.
DesignSheet sheet() {
  DesignSheet s;
  s.title = "Bar & coil";
  s.keys = {"coil.turns", "coil.pitch"};
  s.axes = {{"6", "7"}, {"7 mm", "8 mm"}};
  s.rank = "states.cold.power.workpiece_W";
  s.largest = true;
  s.against = "states.cold.power.coil_W";
  const auto line = [](const char* turns, const char* pitch, double value, double against) {
    DesignLine l;
    l.values = {turns, pitch};
    l.value = value;
    l.against = against;
    return l;
  };
  s.best = {line("7", "7 mm", 100, 60), line("7", "8 mm", 80, 70), line("6", "7 mm", 70, 40)};
  s.breaking = {line("6", "8 mm", 120, 90)};
  s.breaking[0].broken = {"can: current at 120 % of its limit"};
  s.breaking[0].limits = {"can: current"};
  return s;
}

// Property: the front consists of the designs that no other betters in both keys, by hand: 100 W at
// 60 W and 70 W at 40 W; 80 W at 70 W is bettered in both.
TEST(DesignCharts, FrontIsWhatNothingBetters) {
  EXPECT_EQ(pareto_front(sheet()), (std::vector<std::size_t>{0, 2}));
  DesignSheet other = sheet();
  other.against_largest = true;
  EXPECT_EQ(pareto_front(other), (std::vector<std::size_t>{0, 1}));
}

// Property: all three charts become SVG with their units, titles escaped; without the data that
// they need there is none.
TEST(DesignCharts, ShowUnitsAndKnowWhatTheyNeed) {
  for (const auto& canvas :
       {design_map(sheet()), pareto_chart(sheet()), sensitivity_chart(sheet())}) {
    ASSERT_TRUE(canvas);
    const std::string svg = svg_of(*canvas);
    EXPECT_NE(svg.find("power in the workpiece, cold [W]"), std::string::npos);
    EXPECT_NE(svg.find("Bar &amp; coil"), std::string::npos);
  }
  DesignSheet bare = sheet();
  bare.against.clear();
  EXPECT_FALSE(pareto_chart(bare));
  bare.best.clear();
  EXPECT_FALSE(sensitivity_chart(bare));
  bare.keys.pop_back();
  EXPECT_FALSE(design_map(bare));
}

// Property: the map names a limit that some of its designs break, and none where all keep theirs.
TEST(DesignCharts, MapDrawsLimits) {
  const std::string svg = svg_of(*design_map(sheet()));
  EXPECT_NE(svg.find("limit of can: current"), std::string::npos);
  DesignSheet kept = sheet();
  kept.best.push_back(kept.breaking[0]);
  kept.best.back().broken.clear();
  kept.best.back().limits.clear();
  kept.breaking.clear();
  EXPECT_EQ(svg_of(*design_map(kept)).find("limit of"), std::string::npos);
}

// Property: keys read as words with their unit.
TEST(DesignCharts, KeysReadAsWords) {
  EXPECT_EQ(key_label("heat.time_to_target_s"), "time to the target [s]");
  EXPECT_EQ(key_label("states.cold.supply.demand_A"), "current asked of the supply, cold [A]");
  EXPECT_EQ(key_label("efficiency"), "efficiency");
  EXPECT_EQ(key_name("states.cold.supply.demand_A"), "current asked of the supply, cold");
  EXPECT_EQ(key_value("power.coil_W", 1260.0), "1.26 kW");
  EXPECT_EQ(key_value("states.cold.efficiency", 0.5), "50.0 %");
  EXPECT_EQ(key_value("heat.stall_K", 1000.0), "727 degC");
  EXPECT_EQ(key_value("exposure.keep_out_m", 0.165), "165 mm");
  EXPECT_EQ(short_label("coil.pitch"), "pitch");
  EXPECT_EQ(key_value("states.cold.power.coil_W", 250), "250 W");
  EXPECT_EQ(key_value("heat.stall_K", 1093.15), "820 degC");
  EXPECT_EQ(key_value("efficiency", 0.618), "61.8 %");
  EXPECT_EQ(setting_words("coil.turns", "8"), "8 turns");
  EXPECT_EQ(setting_words("coil.pitch", "7.5 mm"), "pitch 7.5 mm");
}

}  // namespace
}  // namespace cw
