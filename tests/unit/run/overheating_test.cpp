// What is heated has limits of its own.
#include "solver/run/overheating.hpp"

#include <gtest/gtest.h>

#include "materials/library.hpp"

namespace cw {
namespace {

/// A workpiece and a charge in it, their hottest places after a run to a target.
struct Heated {
  Heater heater;
  HeatResult heat;

  Heated(const char* work, double work_hottest, double target) {
    heater.workpiece.emplace().material = find_material(work);
    heater.heat.emplace().target = heat.target = Temperature::celsius(target);
    heat.bodies = {{"workpiece", {}}};
    heat.lines.emplace_back().bodies = {{0, work_hottest + zero_celsius, 0, {}}};
  }
  void add_charge(const char* metal, double hottest) {
    heater.bodies.emplace_back().name = "charge";
    heater.bodies.back().material = find_material(metal);
    heat.bodies.push_back({"charge", {}});
    heat.lines.back().bodies.push_back({0, hottest + zero_celsius, 0, {}});
    heat.target_of = "charge";
  }
  [[nodiscard]] std::vector<LimitResult> limits() const { return overheating(heater, heat); }
};

// Steel to be hardened coarsens above 1050 degC; for forging it may be hotter, up to 100 K below
// its solidus (common practice, from memory).
TEST(Overheating, OfSteelDependsOnTheJob) {
  const auto hardened = Heated("steel-medium-carbon", 1208, 850).limits();
  ASSERT_EQ(hardened.size(), 1U);
  EXPECT_EQ(hardened[0].verdict, Verdict::stop);
  EXPECT_NEAR(hardened[0].limit.value(), 1050 + zero_celsius, 1e-9);
  EXPECT_EQ(Heated("steel-medium-carbon", 950, 850).limits()[0].verdict, Verdict::ok);
  const auto forged = Heated("steel-medium-carbon", 1208, 1150).limits();
  EXPECT_EQ(forged[0].verdict, Verdict::ok);
  EXPECT_NEAR(forged[0].limit.value(),
              find_material("steel-medium-carbon").melting->solidus.kelvin - 100, 1e-9);
}

// A charge that is to melt has no such limit; the cup of steel round it has.
TEST(Overheating, ChargesThatShouldMeltHaveNoLimit) {
  Heated cup("steel-low-carbon", 1420, 1130);
  cup.add_charge("tin-bronze", 1150);
  const auto limits = cup.limits();
  ASSERT_EQ(limits.size(), 1U);
  EXPECT_EQ(limits[0].part, "workpiece");
  EXPECT_EQ(limits[0].verdict, Verdict::stop);
}

}  // namespace
}  // namespace cw
