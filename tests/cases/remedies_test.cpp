// Advice has been solved: when followed, it gives the stated outcome.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "cases/read/read_case.hpp"
#include "cases/run/remedied_case.hpp"
#include "cases/run/run_case.hpp"
#include "solver/run/job_verdict.hpp"
#include "tests/cases/bolt.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

Result solved_with_advice(const Case& subject, bool advise) {
  RunOptions options;
  options.effort = Effort::fast;
  options.advise = advise;
  return run_case(subject, options).result;
}

/// A folder of its own, gone when the test is.
class Advised : public testing::Test {
 protected:
  void SetUp() override { fs::create_directories(folder_ / "out"); }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] Case written(const std::string& text) const {
    std::ofstream(folder_ / "case.toml") << text;
    return read_case(folder_ / "case.toml");
  }
  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_advised_" + std::to_string(::getpid()));
};

// The case beside the report, when run, gives the stated outcome of the remedy: the target if it
// said so, a higher temperature otherwise. No limit is exceeded that was kept before.
TEST_F(Advised, RemedyCaseGivesTheStatedOutcome) {
  const Case own = written(bolt_to_900);
  const Result before = solved_with_advice(own, true);
  ASSERT_EQ(before.verdict->answer, Answer::no) << before.verdict->sentence;
  EXPECT_EQ(before.verdict->bottleneck, Bottleneck::supply_folds) << before.verdict->sentence;
  // The heater never reaches its target, so parts are not judged there.
  EXPECT_FALSE(before.states.back().met);
  ASSERT_FALSE(before.limits.empty());
  for (const LimitResult& limit : before.limits) EXPECT_NE(limit.at_state, "at_target");
  ASSERT_FALSE(before.remedies.empty());
  const Remedy& first = before.remedies.front();
  const std::string text = remedied_case(own, first, folder_ / "out");
  ASSERT_FALSE(text.empty());
  EXPECT_NE(text.find("# under the rust"), std::string::npos) << text;
  std::ofstream(folder_ / "out/remedy.toml") << text;
  const Result after = solved_with_advice(read_case(folder_ / "out/remedy.toml"), false);
  EXPECT_EQ(after.heat->reached, first.reached) << first.change;
  if (first.time_to_target) {
    EXPECT_NEAR(*after.heat->time_to_target, *first.time_to_target, 0.02 * *first.time_to_target);
  }
  EXPECT_GT(end_of_heating(*after.heat), end_of_heating(*before.heat) + 4) << first.change;
  ASSERT_FALSE(after.limits.empty());
  for (const LimitResult& limit : after.limits)
    EXPECT_NE(limit.verdict, Verdict::stop) << limit.part << " " << limit.quantity;
}

// With too few cans the verdict is no plain yes although the target is reached; the remedy keeps
// every limit and still reaches it.
TEST_F(Advised, KeepsTheLimitsAndDoesTheJob) {
  const fs::path file = fs::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml";
  const std::vector<Change> few{{"tank.cans", "12"}, {"tank.capacitance", "2 uF"}};
  const Result before = solved_with_advice(read_case(file, few), true);
  ASSERT_EQ(before.verdict->answer, Answer::past_limits) << before.verdict->sentence;
  ASSERT_FALSE(before.remedies.empty());
  EXPECT_TRUE(before.remedies.front().reached);
  EXPECT_TRUE(before.remedies.front().past_their_limit.empty()) << before.remedies.front().outcome;
}

// If the supply switches off at once, the remedy demands less and does the job.
TEST_F(Advised, TrippingSupplyGetsASmallerDemand) {
  const Result before =
      solved_with_advice(read_case(fs::path(COILWRIGHT_EXAMPLES) / "axle-nut-36-volts.toml"), true);
  ASSERT_EQ(before.verdict->bottleneck, Bottleneck::supply_trips) << before.verdict->sentence;
  ASSERT_FALSE(before.remedies.empty());
  EXPECT_TRUE(before.remedies.front().reached) << before.remedies.front().outcome;
  EXPECT_TRUE(before.remedies.front().past_their_limit.empty()) << before.remedies.front().outcome;
}

// A heater that does its job gets no remedies, even if its supply folds back on the way.
TEST_F(Advised, NoRemedyForASoundHeater) {
  const Result result =
      solved_with_advice(read_case(fs::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml"), true);
  EXPECT_EQ(result.verdict->answer, Answer::at_supply_limit) << result.verdict->sentence;
  EXPECT_TRUE(result.remedies.empty());
}

}  // namespace
}  // namespace cw::cases
