#include "solver/run/run_heater.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

/// Heats steel in a tank that rings, for a moment.
Case heater_of_many_states() {
  return read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / "chisel-blank.toml",
                   std::vector<Change>{{"heat.until", "0.1 s"}});
}

std::vector<std::string> names_of(const std::vector<StateResult>& states) {
  std::vector<std::string> names;
  for (const StateResult& state : states) names.push_back(state.name);
  return names;
}

// Property: who watches a run gets every state once and in turn, then all of them before the
// heating; the run solves as much as one that nobody watches, and ends with the same figures.
TEST(RunHeater, HandsOverStateAfterState) {
  const Case subject = heater_of_many_states();
  int solved = 0;
  HeaterRunOptions options{Effort::fast};
  options.maker = [&](const Section& section, const Sizing& sizing, const Media& media) {
    ++solved;
    return system_from_nothing(section, sizing, media);
  };
  const cw::Run alone = run_heater(subject, options);
  const int solved_alone = std::exchange(solved, 0);

  std::vector<std::string> at_the_end;
  std::size_t so_far = 0;
  options.state_solved = [&](const std::vector<StateResult>& states) {
    EXPECT_EQ(states.size(), ++so_far);
    EXPECT_TRUE(at_the_end.empty());
  };
  options.states_solved = [&](cw::Run& run) {
    at_the_end = names_of(run.result.states);
    EXPECT_FALSE(run.result.limits.empty());
    EXPECT_FALSE(run.result.heat);
    run.result.warnings.emplace_back("dropped");
  };
  const cw::Run watched = run_heater(subject, options);
  EXPECT_EQ(solved, solved_alone);
  EXPECT_EQ(at_the_end,
            (std::vector<std::string>{"empty", "cold", "peak_demand", "past_curie", "at_target"}));
  EXPECT_EQ(so_far, at_the_end.size());
  EXPECT_EQ(watched.result.warnings, alone.result.warnings);
  ASSERT_EQ(names_of(watched.result.states), names_of(alone.result.states));
  for (std::size_t i = 0; i < so_far; ++i)
    EXPECT_EQ(watched.result.states[i].power.total, alone.result.states[i].power.total);
}

}  // namespace
}  // namespace cw::cases
