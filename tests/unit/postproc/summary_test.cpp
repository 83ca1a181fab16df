#include "postproc/summary.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "sample_case.hpp"

namespace {

// Property: no line is wider than a terminal of 80 columns, long names and warnings included.
TEST(Summary, FitsEightyColumns) {
  cw::Result result = cw::sample::result();
  result.title = std::string(200, 'x');
  result.states[0].power.bodies["an unusually long name of a body round the workpiece"] = 1.0;
  result.limits.push_back({"capacitor can", "current_rms_A", 9.5, 9.0, 9.5 / 9.0, cw::Verdict::stop,
                           "peak_demand", "Use more cans, or cans made for more current."});
  std::istringstream lines(cw::summary(result));
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 80U) << line;
}

// Property: the summary says rms beside every current and voltage, names each loss, and ends with
// the cautions.
TEST(Summary, SaysWhatWasFound) {
  const std::string text = cw::summary(cw::sample::result());
  for (const char* words :
       {"100 A  rms (141 A peak)", "11.0 V  rms (15.6 V peak)", "333 nH", "30.0 mohm", "50.0 kHz",
        "150 W  50.0 %", "120 W  40.0 %", "300 W", "1.10 mm", "work power 0.100 %"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
  }
  EXPECT_GT(text.find("Cautions"), text.find("total"));
}

// Property: what was warned of stands before the figures.
TEST(Summary, WarningsComeFirst) {
  const std::string text = cw::summary(cw::sample::result());
  EXPECT_LT(text.find("Warnings"), text.find("State fixed_frequency"));
}

// Property: no result prints without the header and the cautions on voltage, implants, water, hot
// metal and model.
TEST(Summary, CautionsAreAlwaysThere) {
  for (const cw::Result& result : {cw::Result{}, cw::sample::result()}) {
    const std::string text = cw::summary(result);
    for (const char* words :
         {"not a safety approval", "Voltage:", "Implants:", "Water:", "Hot metal:", "Model:"}) {
      EXPECT_NE(text.find(words), std::string::npos) << words;
    }
  }
}

// Property: a poor match is said in plain words with the share that stays in the coil; a good one
// is not mentioned.
TEST(Summary, PlainWordsForAPoorMatch) {
  cw::StateResult state = cw::sample::result().states[0];
  EXPECT_EQ(cw::match_verdict(state), "");
  state.power.workpiece = 60.0;
  state.power.coil = 240.0;
  state.power.total = 300.0;
  state.efficiency = 0.2;
  EXPECT_NE(cw::match_verdict(state).find("80.0 % of the power stays in the coil"),
            std::string::npos);
  state.efficiency.reset();
  EXPECT_EQ(cw::match_verdict(state), "");
}

}  // namespace
