// Whole heaters (tank, drive and supply together) behave as known in the trade.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <stdexcept>

#include "cases/compare/supply_choice.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"

namespace cw::cases {
namespace {

Case example_heater(const std::string& name, const std::vector<Change>& changes = {}) {
  return read_case(std::filesystem::path(COILWRIGHT_EXAMPLES) / (name + ".toml"), changes);
}

Result run(const std::string& name, const std::vector<Change>& changes = {}) {
  return run_case(example_heater(name, changes), Effort::fast).result;
}

const StateResult& state(const Result& result, const std::string& name) {
  for (const StateResult& s : result.states)
    if (s.name == name) return s;
  throw std::runtime_error("no state " + name);
}

const LimitResult& limit(const Result& result, const std::string& part,
                         const std::string& quantity) {
  for (const LimitResult& r : result.limits)
    if (r.part == part && r.quantity == quantity) return r;
  throw std::runtime_error("no limit " + part);
}

const Change no_limit{"drive.supply_limit", "1000 A"};

// At one supply voltage a thinner bar draws less (common practice, no source).
TEST(Trade, ThinnerBarDrawsLess) {
  double before = 1e300;
  for (const char* diameter : {"14 mm", "12 mm", "10 mm", "8 mm"}) {
    const Result r = run("chisel-blank", {no_limit, {"workpiece.diameter", diameter}});
    const double demand = state(r, "cold").supply->demand;
    EXPECT_LT(demand, 0.95 * before) << diameter;
    before = demand;
  }
}

// A good conductor that is not magnetic takes a small share of what steel takes in the same coil at
// the same supply voltage (common practice, no source; "small" taken as below a tenth).
TEST(Trade, NonMagneticGoodConductorTakesLittle) {
  const std::vector<Change> cool{no_limit, {"heat.target", "300 degC"}};
  const double steel = *state(run("chisel-blank", cool), "cold").power.workpiece;
  for (const char* metal : {"aluminium-6061-t6", "copper-tube"}) {
    std::vector<Change> changes = cool;
    changes.push_back({"workpiece.material", metal});
    const StateResult s = state(run("chisel-blank", changes), "cold");
    EXPECT_LT(*s.power.workpiece, 0.1 * steel) << metal;
    EXPECT_GT(*s.power.workpiece, 0) << metal;
    EXPECT_LT(*s.efficiency, 0.35) << metal;
  }
}

// Too few cans give the verdict stop for the capacitors, before every other part; the same bank in
// twenty cans passes.
TEST(Trade, TooFewCansAreFound) {
  const Result few = run("chisel-few-cans");
  const LimitResult& can = limit(few, "capacitor can", "current_rms_A");
  EXPECT_EQ(can.verdict, Verdict::stop);
  // The current of the bank is that of twenty cans; each of four carries five times as much.
  EXPECT_NEAR(can.value, 5 * limit(run("chisel-blank"), "capacitor can", "current_rms_A").value,
              1e-9 * can.value);
  EXPECT_TRUE(few.limits.front().part.starts_with("capacitor can")) << few.limits.front().part;
  EXPECT_NE(limit(run("chisel-blank"), "capacitor can", "current_rms_A").verdict, Verdict::stop);
}

// A bank that cannot ring with its coil in any state is reported for each state, with the
// resistance and the value below which it would ring; no other results are invented.
TEST(Trade, BankThatCannotRingSaysSo) {
  const Result r =
      run("chisel-blank", {{"tank.capacitance", "400 uF"}, {"tank.joints.resistance", "100 mohm"}});
  EXPECT_TRUE(r.states.empty());
  EXPECT_TRUE(r.limits.empty());
  ASSERT_EQ(r.warnings.size(), 5U);
  for (const std::string& warning : r.warnings) {
    EXPECT_NE(warning.find("does not oscillate"), std::string::npos) << warning;
    EXPECT_NE(warning.find("must be less than 0.05"), std::string::npos) << warning;
  }
}

// The three kinds of limit: a folding supply gives its limit at a lower voltage, a tripped or
// hiccuping one gives nothing; the demand is the same for all.
TEST(Trade, LimitKindsActAsTheySay) {
  const auto peak = [](const char* kind) {
    return state(run("chisel-blank", {{"drive.limit_kind", kind}}), "peak_demand");
  };
  const StateResult fold = peak("fold"), trip = peak("trip"), hiccup = peak("hiccup");
  EXPECT_NEAR(fold.supply->current, 32.0, 1e-9);
  EXPECT_LT(fold.supply->voltage, 36.0);
  for (const StateResult& s : {trip, hiccup}) {
    EXPECT_TRUE(s.supply->limited);
    EXPECT_EQ(s.supply->current, 0.0);
    EXPECT_NEAR(s.supply->demand, fold.supply->demand, 2e-3 * fold.supply->demand);
  }
  const Result tripped = run("chisel-blank", {{"drive.limit_kind", "trip"}});
  bool said = false;
  for (const std::string& warning : tripped.warnings)
    said = said || warning.find("and the supply stops") != std::string::npos;
  EXPECT_TRUE(said);
}

// Cable and battery take I^2 R each, which is missing at the terminals; the balance still adds up
// to the power of the battery.
TEST(Trade, CableAndBatteryAreInTheBalance) {
  const Result r = run("axle-nut");
  const StateResult& s = state(r, "cold");
  const double current = s.supply->current;
  EXPECT_NEAR(*s.power.battery, 12e-3 * current * current, 1e-9);
  // 1.5 m of 6 mm2 one way, 1/58 ohm mm2/m (IEC 60028).
  EXPECT_NEAR(*s.power.cable, 2 * 1.5 / 6 / 58 * current * current, 1e-9);
  EXPECT_NEAR(s.supply->voltage, 24 - 12e-3 * current, 1e-9);
  EXPECT_NEAR(s.power.sum(), 24 * current, 1e-6 * s.power.total);
  EXPECT_NEAR(s.power.total, 24 * current, 1e-9 * s.power.total);
  const Result stiff = run("axle-nut", {{"drive.battery_resistance", "0 ohm"}});
  EXPECT_GT(state(stiff, "cold").supply->demand, s.supply->demand);
}

// ESR and inductance of the bank have an effect: its loss increases by I^2 ESR, and an inductance
// in the bank lowers the frequency.
TEST(Trade, BankHasResistanceAndInductance) {
  const StateResult plain = state(run("bronze-melt"), "cold"),
                    lossy = state(run("bronze-melt", {{"tank.esr", "1 mohm"}}), "cold"),
                    slow = state(run("bronze-melt", {{"tank.esl", "100 nH"}}), "cold");
  const double square = std::pow(lossy.tank->capacitor_current_rms, 2);
  EXPECT_NEAR(*lossy.power.capacitors - *plain.power.capacitors, 1e-3 * square, 0.03e-3 * square);
  EXPECT_LT(slow.frequency.hertz, 0.99 * plain.frequency.hertz);
}

// The temperature of the largest demand is found within 10 K, or the demand within 0.5 %: no other
// temperature demands more. For steels that lose their magnetism in different ways, for nickel, and
// at a low supply voltage.
TEST(PeakDemand, IsWithinTenKelvinOrHalfAPerCent) {
  int compared = 0;
  for (const auto& [metal, volts] :
       {std::pair{"steel-high-carbon", "36 V"}, std::pair{"steel-high-carbon", "12 V"},
        std::pair{"steel-low-carbon", "36 V"}, std::pair{"nickel", "24 V"},
        std::pair{"stainless-430", "36 V"}}) {
    const std::vector<Change> base{
        no_limit, {"workpiece.material", metal}, {"drive.supply", volts}};
    const StateResult found = state(run("chisel-blank", base), "peak_demand");
    for (const double away : {-50, -12, 12, 30}) {
      const double celsius = found.workpiece_temperature->in_celsius() + away;
      std::vector<Change> there = base;
      there.push_back({"workpiece.temperature", std::to_string(celsius) + " degC"});
      there.push_back({"heat.target", std::to_string(celsius + 1) + " degC"});
      if (celsius > 818 || celsius < 20) continue;
      ++compared;
      EXPECT_LT(state(run("chisel-blank", there), "cold").supply->demand,
                1.005 * found.supply->demand)
          << metal << " " << volts << " at " << celsius;
    }
  }
  EXPECT_GE(compared, 6);
}

// The comparison of supplies has every voltage once and marks the case's own. For a linear load
// demand and switch voltage are proportional to the voltage, and power to its square; the suggested
// fuse carries the demand with a quarter to spare.
TEST(Supplies, LinearLoadScales) {
  // With the coil at one temperature: warmer copper would be another load.
  const auto all = compare_supplies(
      example_heater("bronze-melt", {{"drive.supply", "30 V"}, {"coil.temperature", "30 degC"}}),
      Effort::fast, nullptr);
  ASSERT_EQ(all.size(), 6U);
  for (const SupplyChoice& c : all) {
    EXPECT_EQ(c.own, c.voltage == 30);
    ASSERT_TRUE(c.rings);
    const double times = c.voltage / all[0].voltage;
    EXPECT_NEAR(c.demand, times * all[0].demand, 1e-3 * c.demand);
    EXPECT_NEAR(c.switch_voltage_peak, times * all[0].switch_voltage_peak,
                1e-3 * c.switch_voltage_peak);
    EXPECT_NEAR(*c.work_cold, times * times * *all[0].work_cold, 2e-3 * *c.work_cold);
    EXPECT_NEAR(*c.can_current_rms, c.bank_current_rms / 24, 1e-9 * c.bank_current_rms);
    EXPECT_GT(*c.fuse, 1.25 * c.demand);
  }
}

// A saturating load is solved anew at each voltage: power in the work is not proportional to the
// square of the voltage, and the row of the case's own voltage equals the case without its limit.
TEST(Supplies, SaturatingLoadDoesNotScale) {
  const auto all = compare_supplies(example_heater("chisel-blank"), Effort::fast, nullptr);
  ASSERT_EQ(all.size(), 5U);
  EXPECT_GT(std::abs(*all[4].work_cold / *all[0].work_cold / 25 - 1), 0.1);
  const Result own = run("chisel-blank", {no_limit});
  EXPECT_NEAR(all[2].demand, state(own, "peak_demand").supply->demand, 1e-9 * all[2].demand);
  EXPECT_EQ(all[2].demand_state, "peak_demand");
  EXPECT_NEAR(*all[2].work_at_target, *state(own, "at_target").power.workpiece, 1e-9);
  for (const SupplyChoice& c : all) EXPECT_NE(c.nearest.part, "supply");
}

// A drive of fixed frequency has no supply to choose.
TEST(Supplies, NeedAPushPull) {
  EXPECT_THROW(compare_supplies(example_heater("chisel-blank-bench"), Effort::fast, nullptr),
               CaseError);
}

}  // namespace
}  // namespace cw::cases
