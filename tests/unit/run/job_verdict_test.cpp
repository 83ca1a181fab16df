// The answer to the job, from the figures of a run.
#include "solver/run/job_verdict.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace cw {
namespace {

/// A part heated to 820 degC in 100 s, its supply and one part well within their limits.
Result heated() {
  Result r;
  HeatResult& heat = r.heat.emplace();
  heat.reached = true;
  heat.ended = "target";
  heat.target = Temperature::celsius(820);
  heat.target_at = "coldest";
  heat.time_to_target = 100.0;
  for (const double share : {0.0, 0.5, 1.0}) {
    HeatLine line;
    line.time = 100 * share;
    line.at_target = line.coldest = line.mean = line.surface = line.centre = 293.15 + 800 * share;
    line.supply_current = line.demand = 8.0;
    line.work_W = 400;
    line.total_W = 500;
    line.lost_W = 100 * share;
    heat.lines.push_back(line);
  }
  r.limits.push_back(
      {"capacitor can", "current_rms_A", 7.0, 9.0, 7.0 / 9, Verdict::ok, "cold", ""});
  return r;
}

/// The same stopped `short_by` kelvin below its target.
Result missed(double short_by, const std::string& ended) {
  Result r = heated();
  r.heat->reached = false;
  r.heat->ended = ended;
  r.heat->time_to_target.reset();
  r.heat->lines.back().at_target = r.heat->target->kelvin - short_by;
  if (ended == "stall") r.heat->stall = Temperature{r.heat->target->kelvin - short_by};
  return r;
}

void expect_answer(const Result& r, Answer answer, Bottleneck bottleneck, const std::string& says) {
  const JobVerdict v = job_verdict(r);
  EXPECT_EQ(v.answer, answer) << v.sentence;
  EXPECT_EQ(v.bottleneck, bottleneck) << v.sentence;
  EXPECT_EQ(v.sentence, says);
}

// A target reached within every limit is a yes with its time; the nearest part is named.
TEST(JobVerdict, Yes) {
  expect_answer(heated(), Answer::yes, Bottleneck::none,
                "Yes: 820 degC at the coldest place after 100 s.");
  EXPECT_EQ(job_verdict(heated()).first_out,
            "most loaded part, at 77.8 % of its limit: capacitor can");
}

// If the supply folds back on the way, the answer says so together with the yes.
TEST(JobVerdict, YesWithTheSupplyAtItsLimit) {
  Result r = heated();
  r.heat->lines[1].demand = 12.0;
  expect_answer(r, Answer::at_supply_limit, Bottleneck::supply_folds,
                "Yes, with the supply at its limit: 820 degC at the coldest place after 100 s.");
  EXPECT_NE(job_verdict(r).why.find("asks for 12.0 A, the supply gives 8.00 A"), std::string::npos)
      << job_verdict(r).why;
}

// A target reached past a limit is no yes, and the part that is past it is named.
TEST(JobVerdict, PastALimitIsNoYes) {
  Result r = heated();
  r.limits.front().fraction = 1.31;
  r.limits.front().verdict = Verdict::stop;
  expect_answer(r, Answer::past_limits, Bottleneck::part,
                "Not as designed: 820 degC at the coldest place after 100 s, but past its limit: "
                "capacitor can (131 %).");
}

// Two limits passed are both named, of more the rest is counted.
TEST(JobVerdict, NamesTheFirstTwo) {
  Result r = heated();
  r.limits = {{"start-up", "loaded_q", 2.5, 3.0, 1.2, Verdict::stop, "cold", ""},
              {"workpiece", "hottest_K", 1373.15, 1323.15, 1.05, Verdict::stop, "heating", ""},
              {"capacitor can", "current_rms_A", 9.1, 9.0, 1.01, Verdict::stop, "cold", ""}};
  expect_answer(r, Answer::past_limits, Bottleneck::loaded_q,
                "Not as designed: 820 degC at the coldest place after 100 s, but the drive may "
                "not start (loaded Q 2.50); the workpiece reaches 1100 degC somewhere, above its "
                "limit of 1050 degC; and 1 more.");
}

// Two parts past their limits share the words.
TEST(JobVerdict, PutsPartsTogether) {
  Result r = heated();
  r.limits = {{"capacitor can", "current_rms_A", 29.0, 9.0, 3.2, Verdict::stop, "cold", ""},
              {"choke", "current_A", 22.0, 20.0, 1.1, Verdict::stop, "cold", ""}};
  expect_answer(r, Answer::past_limits, Bottleneck::part,
                "Not as designed: 820 degC at the coldest place after 100 s, but past their "
                "limits: capacitor can (320 %); choke (110 %).");
}

// If the target is missed, the answer distinguishes what holds the heater back: losses, the supply,
// poor coupling, or only time.
TEST(JobVerdict, NamesWhatHoldsItBack) {
  expect_answer(missed(83, "stall"), Answer::no, Bottleneck::losses,
                "No: the temperature settles at 737 degC, 83 K short of 820 degC at the coldest "
                "place, however long it heats.");
  Result folds = missed(83, "stall");
  folds.heat->lines.back().demand = 20.0;
  EXPECT_EQ(job_verdict(folds).bottleneck, Bottleneck::supply_folds);
  Result loose = missed(83, "stall");
  loose.heat->lines.back().total_W = 1200;
  EXPECT_EQ(job_verdict(loose).bottleneck, Bottleneck::coupling);
  expect_answer(missed(83, "time"), Answer::no, Bottleneck::time,
                "Not in the time given: after 100 s it is at 737 degC, 83 K short of 820 degC at "
                "the coldest place.");
  EXPECT_EQ(job_verdict(missed(83, "supply")).bottleneck, Bottleneck::supply_trips);
  expect_answer(missed(83, "interrupted"), Answer::unknown, Bottleneck::none,
                "Not known: the run was stopped: after 100 s it is at 737 degC, 83 K short of 820 "
                "degC at the coldest place.");
}

// The answer names the body, the depth or the joint of the target.
TEST(JobVerdict, NamesThePlaceOfTheTarget) {
  Result r = missed(83, "time");
  EXPECT_EQ(end_of_heating(*r.heat), r.heat->target->kelvin - 83);
  r.heat->target_of = "charge";
  EXPECT_NE(job_verdict(r).sentence.find("coldest place of the charge"), std::string::npos);
  r.heat->target_at = "joint";
  r.heat->target_of = "pipe";
  r.heat->target_to = "flange";
  EXPECT_NE(job_verdict(r).sentence.find("all over the joint of pipe and flange"),
            std::string::npos);
  r.heat->target_at = "depth";
  r.heat->target_to.reset();
  r.heat->target_depth = 2e-3;
  EXPECT_NE(job_verdict(r).sentence.find("at a depth of 2 mm"), std::string::npos)
      << job_verdict(r).sentence;
}

// For a part hardened to a depth, the answer says how long the depth stays right.
TEST(JobVerdict, SaysHowLongTheDepthIsRight) {
  Result r = heated();
  r.heat->target_at = "depth";
  r.heat->target_depth = 2e-3;
  r.heat->hardening = HardeningResult{Temperature::celsius(780), {}, 2e-3, 0.0, 104.0};
  EXPECT_NE(
      job_verdict(r).sentence.find("Switch off within 4.00 s: after 104 s the surface is too hot."),
      std::string::npos)
      << job_verdict(r).sentence;
}

}  // namespace
}  // namespace cw
