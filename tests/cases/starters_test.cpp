// The cases that `coilwright new` prints are heaters that work.
#include <gtest/gtest.h>

#include "cases/commands/starter.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"

namespace cw::cases {
namespace {

/// All but the shelf, which has no coil yet: design_test.cpp.
std::vector<std::string_view> complete_starters() {
  std::vector<std::string_view> kinds = starter_kinds();
  std::erase(kinds, "shelf");
  return kinds;
}

class EveryStarter : public testing::TestWithParam<std::string_view> {};

// Exactly as printed it does its job, and no part exceeds its limit.
TEST_P(EveryStarter, DoesItsJobWithinItsLimits) {
  const Case subject = read_case_text(starter_case(GetParam()), "starter.toml", {});
  RunOptions options;
  options.effort = Effort::fast;
  const Result result = run_case(subject, options).result;
  ASSERT_FALSE(result.states.empty());
  ASSERT_FALSE(result.limits.empty());
  for (const LimitResult& limit : result.limits)
    EXPECT_NE(limit.verdict, Verdict::stop) << limit.part << " " << limit.quantity;
  if (!subject.heat) return;
  ASSERT_TRUE(result.verdict);
  EXPECT_TRUE(result.verdict->answer == Answer::yes ||
              result.verdict->answer == Answer::at_supply_limit)
      << result.verdict->sentence;
}

INSTANTIATE_TEST_SUITE_P(Printed, EveryStarter, testing::ValuesIn(complete_starters()),
                         [](const auto& kind) { return std::string(kind.param); });

}  // namespace
}  // namespace cw::cases
