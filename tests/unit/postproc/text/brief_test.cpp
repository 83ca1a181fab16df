#include "postproc/text/brief.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "postproc/text/summary.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

constexpr std::size_t lines_allowed = 27;

std::string whole(const cw::Result& result, const std::string& remedy = "remedy.toml") {
  const cw::BriefSummary text = cw::brief(result, remedy, lines_allowed);
  return text.title + text.verdict + text.rest;
}

/// The text on one line, so that a sentence is found however it is wrapped.
std::string flat(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  while (text.find("  ") != std::string::npos) text.replace(text.find("  "), 2, " ");
  return text;
}

/// The sample with every text longer than anybody writes it.
cw::Result long_result() {
  cw::Result r = cw::sample::full_result();
  const std::string words = " and then some more words about it that nobody would want to read";
  std::string many;
  for (int k = 0; k < 12; ++k) many += words;
  r.title += many;
  r.verdict->sentence += many;
  r.verdict->why += many;
  r.verdict->first_out = "most loaded part, at 109 % of its limit: capacitor can";
  r.limits[0].advice += many;
  r.remedies[0].outcome += many;
  r.heat->target_of = std::string(60, 'y');
  return r;
}

// Property: for any result, thirty lines less those of its files are enough, none wider than 80
// columns, and the standing line is among them.
TEST(Brief, FitsOnATerminal) {
  for (const cw::Result& result :
       {cw::Result{}, cw::sample::result(), cw::sample::full_result(), long_result()}) {
    const std::string text = whole(result);
    std::istringstream lines(text);
    std::size_t count = 0;
    for (std::string line; std::getline(lines, line); ++count) EXPECT_LE(line.size(), 80U) << line;
    EXPECT_LE(count, lines_allowed) << text;
    EXPECT_NE(flat(text).find("Local electrical, fire, radio and workplace rules come first; mains "
                              "wiring and earthing belong to a licensed person."),
              std::string::npos)
        << text;
  }
}

// Property: the answer, what holds the heater back and what gives out first come before any figure,
// in the words of the verdict; then the limit, and the remedies with their file.
TEST(Brief, AnswersFirst) {
  cw::Result result = cw::sample::full_result();
  result.verdict->first_out = "most loaded part, at 109 % of its limit: capacitor can";
  const std::string text = flat(whole(result));
  std::size_t last = 0;
  for (const std::string& words :
       {result.verdict->sentence, result.verdict->why,
        std::string("Most loaded part, at 109 % of its limit: capacitor can."),
        std::string("Current 9.53 A rms, limit 8.74 A (past curie). Use more cans."),
        std::string("Best remedy (solved): 10 turns instead of 6: the target after 96.0 s"),
        std::string("The case with it: remedy.toml."), std::string("frequency")}) {
    const std::size_t at = text.find(words, last);
    ASSERT_NE(at, std::string::npos) << words << "\n" << text;
    last = at;
  }
  EXPECT_EQ(cw::brief(result, "", lines_allowed).rest.find("remedy.toml"), std::string::npos);
  EXPECT_EQ(cw::brief_verdict(result), result.verdict->sentence);
}

// Property: without a target the answer is where the power goes, as on the page.
TEST(Brief, SaysWherePowerGoesWithoutATarget) {
  EXPECT_EQ(
      cw::brief_verdict(cw::sample::result()),
      "At 50.0 kHz and 100 A rms in the coil the power is 300 W: 150 W of it (50.0 %) heats the "
      "workpiece.");
  EXPECT_EQ(cw::brief(cw::sample::result(), "", lines_allowed).tone, cw::Tone::plain);
}

// Property: a yes is good news, a no bad news, all between them doubtful.
TEST(Brief, HasATone) {
  using cw::Answer, cw::Tone;
  cw::Result result = cw::sample::full_result();
  for (const auto& [answer, tone] :
       {std::pair(Answer::yes, Tone::good), std::pair(Answer::no, Tone::bad),
        std::pair(Answer::at_supply_limit, Tone::doubtful),
        std::pair(Answer::past_limits, Tone::doubtful),
        std::pair(Answer::unknown, Tone::doubtful)}) {
    result.verdict->answer = answer;
    EXPECT_EQ(cw::brief(result, "", lines_allowed).tone, tone);
  }
}

// Property: at most ten figures, marked rms or peak. For a fixed frequency they are those of the
// coil at its terminals, for a tank those of its resonance, for a heating run its time comes first.
TEST(Brief, ChoosesTheFiguresThatMatter) {
  const auto starts = [](const std::vector<std::string>& rows) {
    std::string labels;
    for (const std::string& row : rows) labels += row.substr(2, row.find("  ", 2) - 2) + "|";
    return labels;
  };
  const auto fixed = cw::brief_figures(cw::sample::result());
  EXPECT_EQ(starts(fixed),
            "frequency|coil current|voltage on coil and leads|power into the work|efficiency|loss "
            "in coil and leads|inductance|series resistance|skin depth in the work|");
  EXPECT_NE(fixed[1].find("100 A  rms, 141 A peak"), std::string::npos) << fixed[1];
  cw::Result result = cw::sample::full_result();
  const auto heated = cw::brief_figures(result);
  EXPECT_EQ(heated.size(), 10U);
  EXPECT_EQ(starts(heated).substr(0, 60),
            "time to target|hottest place|frequency|supply current|coil c");
  EXPECT_NE(starts(heated).find("tank voltage"), std::string::npos);
  result.heat.reset();
  EXPECT_NE(starts(cw::brief_figures(result)).find("capacitor current|"), std::string::npos);
}

// Property: no row of figures is cut short: a supply at its limit while the work heats, a target
// reached or missed at any place of the workpiece, and the longest name of a state.
TEST(Brief, RowsAreWhole) {
  cw::Result result = cw::sample::full_result();
  result.heat->target_of = "workpiece";
  result.states.back().name = "peak_demand";
  for (cw::HeatLine& line : result.heat->lines) line.demand = 1010.0;
  for (const double reached : {128.0, 0.0})
    for (const char* place : {"surface", "centre", "mean", "coldest"}) {
      result.heat->target_at = place;
      result.heat->time_to_target = reached;
      if (reached == 0.0) result.heat->time_to_target.reset();
      for (const std::string& row : cw::brief_figures(result))
        EXPECT_EQ(row.find("..."), std::string::npos) << row;
    }
}

// Property: figures are taken from states that the heater reaches; a larger current in another
// state is ignored.
TEST(Brief, LeavesOutStatesThatAreNotMet) {
  cw::Result result = cw::sample::full_result();
  result.states[1].drive.current_rms = 777.0;
  EXPECT_NE(whole(result).find("777 A"), std::string::npos);
  result.states[1].met = false;
  EXPECT_EQ(whole(result).find("777 A"), std::string::npos);
}

// Property: the voltage on the coil is a caution where it is more than may be touched (50 V rms,
// IEC 60364-4-41, from memory), and hot work one where there is a heating run.
TEST(Brief, TellsTheCautionsOfThisDesign) {
  cw::Result result = cw::sample::result();
  for (const double volts : {49.0, 51.0}) {
    result.states[0].drive.voltage_rms = volts;
    EXPECT_EQ(whole(result).find("across the coil") != std::string::npos, volts > 50);
  }
  EXPECT_NE(whole(cw::sample::full_result()).find("Burns:"), std::string::npos);
}

// Property: a warning common to several states appears once with their names, others are unchanged;
// the brief text counts the merged ones.
TEST(Brief, MergesRepeatedWarnings) {
  cw::Result result = cw::sample::result();
  result.warnings = {"State cold: steel: hysteresis is left out.", "the mesh is coarse",
                     "State peak_demand: steel: hysteresis is left out.",
                     "State peak_demand: the supply stops.", "the mesh is coarse"};
  EXPECT_EQ(cw::merged_warnings(result),
            (std::vector<std::string>{"States cold, peak demand: steel: hysteresis is left out.",
                                      "the mesh is coarse", "State peak demand: the supply stops.",
                                      "the mesh is coarse"}));
  EXPECT_NE(whole(result).find("4 warnings concern these figures"), std::string::npos);
}

}  // namespace
