#include "solver/run/heating.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <numeric>

#include "cases/read/read_case.hpp"
#include "solver/run/solve_states.hpp"

namespace cw::cases {
namespace {

/// An aluminium bar that warms by hundreds of kelvin while its power climbs steadily.
class WarmingBar : public testing::Test {
 protected:
  HeatingOutcome run(double tolerance) {
    setup_.plan().tolerance = tolerance;
    setup_.plan().heat_tolerance = 0.05;
    setup_.plan().misplaced = 1e-6;
    return setup_.run();
  }
  static double energy(const HeatingOutcome& outcome) {
    return std::reduce(outcome.state.energy.begin(), outcome.state.energy.end());
  }

  Case subject_ = read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / "aluminium-bar.toml",
                            std::vector<Change>{{"drive.rms", "250 A"}, {"heat.until", "60 s"}});
  Spent spent_;
  std::vector<std::string> warnings_;
  std::vector<SolvedState> states_ = solve_states(subject_, Effort::fast, spent_, warnings_);
  HeatingSetup setup_{subject_, Effort::fast, states_.front()};
};

// A few long intervals give the same energy as 160 short ones, to 4 in 10 000: the power follows a
// parabola from one solution to the next. The stated error is right within a factor of 3.
TEST_F(WarmingBar, FewIntervalsTakeTheEnergyOfMany) {
  const HeatingOutcome fine = run(1e-4);
  const HeatingOutcome coarse = run(0.05);
  EXPECT_GE(fine.state.updates, 100);
  EXPECT_LE(coarse.state.updates, 8);
  const double off = std::abs(energy(coarse) - energy(fine));
  EXPECT_LT(off, 4e-4 * energy(fine));
  EXPECT_LT(off, coarse.state.interpolation_error);
  EXPECT_GT(3 * off, coarse.state.interpolation_error);
  EXPECT_LT(fine.state.interpolation_error, 1e-5 * energy(fine));
}

// The time spent on conduction is part of the time of the run.
TEST_F(WarmingBar, ConductionIsTimed) {
  const auto begin = std::chrono::steady_clock::now();
  const HeatingOutcome outcome = run(0.05);
  const std::chrono::duration<double> all = std::chrono::steady_clock::now() - begin;
  EXPECT_GT(outcome.conduction_s, 0.0);
  EXPECT_LT(outcome.conduction_s, all.count());
}

}  // namespace
}  // namespace cw::cases
