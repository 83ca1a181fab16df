#include "postproc/text/summary.hpp"

#include "postproc/result/cautions.hpp"
#include "postproc/text/limit_words.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "tests/unit/postproc/sample_case.hpp"

namespace {

// Property: no line is wider than a terminal of 80 columns, long names and warnings included.
TEST(Summary, FitsEightyColumns) {
  cw::Result result = cw::sample::result();
  result.title = std::string(200, 'x');
  result.states[0].power.bodies["an unusually long name of a body round the workpiece"] = 1.0;
  result.limits.push_back({"capacitor can", "current_rms_A", 9.5, 9.0, 9.5 / 9.0, cw::Verdict::stop,
                           "peak_demand", "Use more cans, or cans made for more current."});
  std::istringstream lines(cw::summary(result));
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) EXPECT_LE(line.size(), 80U) << line;
  EXPECT_GT(count, 20);
}

// Property: the summary marks every current and voltage as rms, names each loss, and ends with the
// cautions.
TEST(Summary, SaysWhatWasFound) {
  const std::string text = cw::summary(cw::sample::result());
  for (const char* words :
       {"100 A  rms (141 A peak)", "11.0 V  rms (15.6 V peak)", "333 nH", "30.0 mohm", "50.0 kHz",
        "150 W  50.0 %", "120 W  40.0 %", "300 W", "1.10 mm", "work power 0.100 %"}) {
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
  }
  EXPECT_GT(text.rfind("Cautions"), text.find("total"));
}

// Property: warnings come before the figures.
TEST(Summary, WarningsComeFirst) {
  const std::string text = cw::summary(cw::sample::result());
  EXPECT_LT(text.find("Warnings"), text.find("State fixed_frequency"));
}

// Property: a caution triggered by the design comes before the figures, the others after them: that
// on voltage for a tank of more than 50 V rms, not for one of less.
TEST(Summary, CautionsTheDesignTriggersComeFirst) {
  cw::Result result = cw::sample::result();
  result.states[0].tank = cw::TankResult{};
  for (const double volts : {49.0, 51.0}) {
    result.states[0].tank->voltage_rms = volts;
    const std::string text = cw::summary(result);
    const std::size_t figures = text.find("State fixed_frequency");
    EXPECT_EQ(text.find("Voltage:") < figures, volts > 50) << text;
    EXPECT_LT(text.find("Capacitors may hold"), figures);
    EXPECT_LT(text.find("Radio:"), figures);
    EXPECT_GT(text.find("Implants:"), figures);
    EXPECT_EQ(cw::cautions(result).front().id, "header");
    EXPECT_EQ(cw::cautions(result)[1].triggered, true);
    EXPECT_EQ(cw::cautions(result)[1].id, volts > 50 ? "voltage" : "capacitors");
  }
}

// Property: the answer comes first, then what holds it back and what would help, before any figure.
TEST(Summary, TheAnswerComesFirst) {
  const cw::Result result = cw::sample::full_result();
  const std::string text = cw::summary(result);
  const std::size_t answer = text.find("No: the temperature settles at 687 degC");
  EXPECT_LT(answer, 200U) << text;
  EXPECT_LT(answer, text.find("After 180 s"));
  EXPECT_LT(text.find("10 turns instead of 6: the target after 96.0 s"), text.find("STOP"));
}

// Property: limits that are exceeded or nearly so have their quantity and unit in words, with rms
// or peak.
TEST(Summary, LimitsAreInWords) {
  cw::Result result = cw::sample::result();
  result.limits = {
      {"capacitor can", "current_rms_A", 7.83, 9.0, 0.87, cw::Verdict::watch, "empty",
       "More cans."},
      {"supply", "demand_A", 33.9, 32.0, 1.06, cw::Verdict::stop, "cold", ""},
      {"start-up", "loaded_q", 2.5, 3.0, 1.2, cw::Verdict::stop, "cold", ""},
      {"switch", "gate_time_over_half_period", 0.12, 0.1, 1.2, cw::Verdict::watch, "cold", ""}};
  std::string text = cw::summary(result);
  std::replace(text.begin(), text.end(), '\n', ' ');
  for (const char* words :
       {"WATCH capacitor can (empty): current 7.83 A rms, limit 9.00 A. More cans.",
        "STOP supply (cold): asked for 33.9 A, limit 32.0 A.", "loaded Q 2.50, at least 3.00",
        "gate time 12.0 % of half a period, limit 10.0 %"})
    EXPECT_NE(text.find(words), std::string::npos) << words << "\n" << text;
  EXPECT_EQ(text.find("_A"), std::string::npos);
  EXPECT_EQ(cw::limit_words({"choke", "current_peak_A", 12, {}, {}, cw::Verdict::ok, "", ""}),
            "current 12.0 A peak, no limit given");
  EXPECT_EQ(cw::limit_quantity("outlet_temperature_K").unit, "K");
  EXPECT_EQ(cw::limit_words({"bar", "rise_in_kelvin", 32.6, 40, .8, cw::Verdict::watch, "", ""}),
            "rise above the air 32.6 K, limit 40.0 K");
  EXPECT_EQ(cw::limit_words({"x", "velocity_m_per_s", 3.2, {}, {}, cw::Verdict::watch, "", ""}),
            "speed 3.20 m/s, no limit given");
  EXPECT_EQ(
      cw::limit_words({"x", "wall_temperature_K", 373.15, 393.15, .9, cw::Verdict::watch, "", ""}),
      "wall temperature 100 degC, limit 120 degC");
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

/// A state that has only powers [W]; `useful` of them counts in the efficiency.
cw::StateResult powers(double workpiece, double body, double coil, double useful) {
  cw::StateResult state;
  state.power.workpiece = workpiece;
  if (body > 0.0) state.power.bodies["charge"] = body;
  state.power.coil = coil;
  state.power.total = workpiece + body + coil;
  state.efficiency = useful / state.power.total;
  return state;
}

// Property: a poor match is stated in plain words with the share that stays in the coil; a good one
// is not mentioned. The threshold is 35 % into workpiece and bodies together.
TEST(Summary, PlainWordsForAPoorMatch) {
  EXPECT_EQ(cw::match_verdict(cw::sample::result().states[0]), "");
  const std::string poor = cw::match_verdict(powers(60.0, 0.0, 240.0, 60.0));
  EXPECT_NE(poor.find("80.0 % of the power is lost in the coil and 20.0 % reaches the work"),
            std::string::npos)
      << poor;
  EXPECT_NE(cw::match_verdict(powers(20.0, 14.0, 66.0, 20.0)).find("34.0 % reaches"),
            std::string::npos);
  EXPECT_EQ(cw::match_verdict(powers(36.0, 0.0, 64.0, 36.0)), "");
  cw::StateResult empty = powers(0.0, 0.0, 100.0, 0.0);
  empty.efficiency.reset();
  EXPECT_EQ(cw::match_verdict(empty), "");
}

// Property: where the leads keep more than the coil, they are named and the advice is about them.
TEST(Summary, PoorMatchBecauseOfTheLeads) {
  cw::StateResult state = powers(20.0, 0.0, 30.0, 0.0);
  state.power.leads = 50.0;
  state.power.total = 100.0;
  const std::string text = cw::match_verdict(state);
  EXPECT_NE(text.find("30.0 % of the power is lost in the coil, 50.0 % in leads"),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("Shorten the leads"), std::string::npos) << text;
}

// Property: a charge in a cup that takes most of the power is no poor match and no waste.
TEST(Summary, ACupHeatsItsCharge) {
  EXPECT_EQ(cw::match_verdict(powers(830.0, 30.0, 140.0, 860.0)), "");
}

// Property: if bodies that need not be hot take more than the workpiece, the text says so and names
// the one that takes most.
TEST(Summary, ANeighbourThatTakesMost) {
  EXPECT_EQ(
      cw::match_verdict(powers(200.0, 500.0, 300.0, 200.0)),
      "Of the power, 20.0 % goes into the work and 50.0 % into the charge, where it is lost.");
}

}  // namespace
