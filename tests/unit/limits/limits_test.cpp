#include "solver/limits/limits.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <numbers>
#include <regex>

namespace cw {
namespace {

/// 1 uH with 60 mohm, 2 uF in 10 cans, 36 V limited to 20 A.
struct Bench {
  TankCircuit circuit;
  LocalCoil coil;
  Heater heater;

  Bench() {
    circuit.tank.capacitance = 2e-6;
    circuit.tank.dissipation_factor = 1e-3;
    circuit.tank.cans = 10;
    circuit.tank.can_limits = CanLimits{9.0, 150.0, {}, {}};
    circuit.tank.joints = {1e-3, 0};
    drive().choke = {2, 130e-6, 10e-3, 25.0, {}, {}};
    drive().supply = 36;
    drive().supply_limit = 20;
    drive().transistor.resistance = 10e-3;
    drive().transistor.voltage_limit = 150.0;
    coil.at = {{112e3}, 100};
    coil.value = {60e-3, 1e-6, 2e-3};
    heater.coil.turns = 8;
    heater.coil.pitch = 7.5e-3;
    heater.coil.conductor.section = RoundTube{6e-3, 1e-3};
  }

  PushPullDrive& drive() { return std::get<PushPullDrive>(circuit.drive); }

  [[nodiscard]] std::vector<LimitResult> limits() const {
    const TankSolution tank = solve_tank(circuit, coil);
    Heater whole = heater;
    whole.tank = circuit.tank;
    whole.drive = std::get<PushPullDrive>(circuit.drive);
    return find_limits({{"cold", &tank, 50.0, 15.0}}, whole);
  }
};

const LimitResult& find(const std::vector<LimitResult>& all, const std::string& part,
                        const std::string& quantity) {
  for (const LimitResult& r : all)
    if (r.part == part && r.quantity == quantity) return r;
  throw std::runtime_error(part + " " + quantity);
}

// Verdicts follow the fraction: ok below 0.8, watch from there, stop from 1; worst first.
TEST(Limits, VerdictsFollowTheFraction) {
  Bench bench;
  bench.drive().limit_kind = LimitKind::trip;
  const auto all = bench.limits();
  int judged = 0;
  for (const LimitResult& r : all) {
    if (!r.fraction) {
      EXPECT_EQ(r.verdict, Verdict::ok) << r.part;
      continue;
    }
    if (r.part == "start-up") continue;
    EXPECT_NEAR(*r.fraction, r.value / *r.limit, 1e-12);
    EXPECT_EQ(r.verdict, *r.fraction >= 1     ? Verdict::stop
                         : *r.fraction >= 0.8 ? Verdict::watch
                                              : Verdict::ok)
        << r.part;
    EXPECT_EQ(r.advice.empty(), r.verdict == Verdict::ok) << r.part;
    ++judged;
  }
  EXPECT_GE(judged, 3);
  for (std::size_t i = 0; i + 1 < all.size(); ++i)
    EXPECT_GE(all[i].fraction.value_or(-1), all[i + 1].fraction.value_or(-1));
}

// The switch sees pi times the effective supply and is judged by the data sheet.
TEST(Limits, SwitchVoltageIsPiTimesTheSupply) {
  Bench h;
  h.drive().supply_limit.reset();  // a folded supply would lower it
  const LimitResult r = find(h.limits(), "switch", "voltage_peak_V");
  EXPECT_NEAR(r.value, std::numbers::pi * 36, 0.03 * std::numbers::pi * 36);
}

// The supply is judged by the demand: above its limit one that folds back gets `watch`, one that
// trips `stop`. The advised capacitance does bring the demand below the limit.
TEST(Limits, AdvisedCapacitanceMeetsTheSupplyLimit) {
  Bench h;
  h.drive().limit_kind = LimitKind::trip;
  const LimitResult r = find(h.limits(), "supply", "demand_A");
  ASSERT_EQ(r.verdict, Verdict::stop);
  std::smatch number;
  ASSERT_TRUE(std::regex_search(r.advice, number, std::regex(R"(([0-9.]+) (nF|uF) instead of)")))
      << r.advice;
  h.circuit.tank.capacitance =
      std::strtod(number[1].str().c_str(), nullptr) * (number[2] == "nF" ? 1e-9 : 1e-6);
  const double demand = solve_tank(h.circuit, h.coil).demand.supply_current_A;
  EXPECT_LT(demand, 20.0);
  EXPECT_GT(demand, 0.9 * 20.0);
  Bench folds;
  EXPECT_EQ(find(folds.limits(), "supply", "demand_A").verdict, Verdict::watch);
}

// So does the one advised where the demand is only near the limit: it need not be watched then.
TEST(Limits, AdvisedCapacitanceLeavesRoom) {
  Bench h;
  h.drive().supply_limit = solve_tank(h.circuit, h.coil).demand.supply_current_A / 0.85;
  const LimitResult r = find(h.limits(), "supply", "demand_A");
  ASSERT_EQ(r.verdict, Verdict::watch);
  std::smatch number;
  ASSERT_TRUE(std::regex_search(r.advice, number, std::regex(R"(([0-9.]+) (nF|uF) instead of)")))
      << r.advice;
  h.circuit.tank.capacitance =
      std::strtod(number[1].str().c_str(), nullptr) * (number[2] == "nF" ? 1e-9 : 1e-6);
  EXPECT_EQ(find(h.limits(), "supply", "demand_A").verdict, Verdict::ok);
}

// The number of cans advised does bring each to four fifths of its limit.
TEST(Limits, AdvisedNumberOfCansMeetsTheirLimit) {
  Bench h;
  h.circuit.tank.cans = 4;
  const LimitResult r = find(h.limits(), "capacitor can", "current_rms_A");
  ASSERT_EQ(r.verdict, Verdict::stop);
  h.circuit.tank.cans = std::atoi(r.advice.c_str());
  const LimitResult better = find(h.limits(), "capacitor can", "current_rms_A");
  EXPECT_LE(*better.fraction, 0.8);
  EXPECT_GT(*better.fraction, 0.7);
}

// Identity: a bank of the same capacitance in ten strings of two cans in series. Each can carries
// what one of ten side by side carried, makes half of its heat and stands half of its voltage; the
// bank stands twice the voltage.
TEST(Limits, CansInSeriesShareTheVoltage) {
  Bench side, pairs;
  pairs.circuit.tank.cans = 20;
  pairs.circuit.tank.cans_in_series = 2;
  const CanLoad one = solve_tank(side.circuit, side.coil).running.can,
                of_two = solve_tank(pairs.circuit, pairs.coil).running.can;
  EXPECT_NEAR(of_two.current_rms_A / one.current_rms_A, 1.0, 1e-12);
  EXPECT_NEAR(of_two.voltage_rms_V / one.voltage_rms_V, 0.5, 1e-12);
  EXPECT_NEAR(of_two.loss_W / one.loss_W, 0.5, 1e-12);
  EXPECT_NEAR(of_two.reactive_power_var / one.reactive_power_var, 0.5, 1e-12);
  const auto voltage = [](const Bench& b) {
    return *find(b.limits(), "capacitor bank", "voltage_rms_V").fraction;
  };
  EXPECT_NEAR(voltage(pairs) / voltage(side), 0.5, 1e-12);
  const auto open = [](const Bench& b) {
    return *find(b.limits(), "capacitor can, if another opens", "current_rms_A").fraction;
  };
  EXPECT_NEAR(open(pairs) / open(side), 1.0, 1e-12);
}

// Of strings in series whole strings are advised.
TEST(Limits, AdvisedCansMakeWholeStrings) {
  Bench h;
  h.circuit.tank.cans = 8;
  h.circuit.tank.cans_in_series = 2;
  const LimitResult r = find(h.limits(), "capacitor can", "current_rms_A");
  ASSERT_EQ(r.verdict, Verdict::stop);
  h.circuit.tank.cans = std::atoi(r.advice.c_str());
  EXPECT_EQ(*h.circuit.tank.cans % 2, 0);
  const double better = *find(h.limits(), "capacitor can", "current_rms_A").fraction;
  EXPECT_LE(better, 0.8);
  EXPECT_GT(better, 0.7);
}

// Heat and reactive power of a can are judged by what its data sheet allows, and the number of cans
// advised brings both to four fifths: of one bank each of n cans takes an n-th.
TEST(Limits, CansAreJudgedByHeatAndReactivePower) {
  Bench h;
  const TankPoint run = solve_tank(h.circuit, h.coil).running;
  for (const auto& [quantity, value] :
       {std::pair{"loss_W", run.can.loss_W},
        std::pair{"reactive_power_var", run.can.reactive_power_var}}) {
    h.circuit.tank.can_limits->loss = h.circuit.tank.can_limits->reactive_power = value / 1.5;
    h.circuit.tank.cans = 10;
    const LimitResult r = find(h.limits(), "capacitor can", quantity);
    EXPECT_NEAR(*r.fraction, 1.5, 1e-9);
    ASSERT_EQ(r.verdict, Verdict::stop);
    h.circuit.tank.cans = std::atoi(r.advice.c_str());
    const LimitResult better = find(h.limits(), "capacitor can", quantity);
    EXPECT_LE(*better.fraction, 0.8);
    EXPECT_GT(*better.fraction, 0.7);
  }
  // Per can: reactive power is voltage times current, heat that times the dissipation factor.
  EXPECT_NEAR(run.can.reactive_power_var, run.can.voltage_rms_V * run.can.current_rms_A,
              2e-3 * run.can.reactive_power_var);
  EXPECT_NEAR(run.can.loss_W, 1e-3 * run.can.reactive_power_var, 2e-3 * run.can.loss_W);
}

// Every part has its row with figure and unit, limited or not: cans, bank, supply, switches,
// chokes, gap between turns, coil, leads, joints and current round the copper.
TEST(Limits, EveryPartHasItsRow) {
  Bench h;
  h.drive().transistor.gate_time = 100e-9;
  h.drive().fuse = 30.0;
  const auto all = h.limits();
  for (const auto& [part, quantity] : {std::pair{"capacitor can", "current_rms_A"},
                                       {"capacitor can", "loss_W"},
                                       {"capacitor can", "reactive_power_var"},
                                       {"capacitor can, if another opens", "current_rms_A"},
                                       {"capacitor bank", "voltage_rms_V"},
                                       {"capacitor bank", "reactive_power_var"},
                                       {"supply", "demand_A"},
                                       {"switch", "voltage_peak_V"},
                                       {"switches, both", "conduction_loss_W"},
                                       {"switch", "gate_time_over_half_period"},
                                       {"feed choke", "current_peak_A"},
                                       {"feed choke", "energy_J"},
                                       {"start-up", "loaded_q"},
                                       {"both switches stuck on", "time_to_fuse_s"},
                                       {"fuse", "current_A"},
                                       {"gap between bare turns", "turn_voltage_peak_V"},
                                       {"coil", "loss_W"},
                                       {"leads", "loss_W"},
                                       {"joints", "loss_W"},
                                       {"coil and leads", "current_per_perimeter_A_per_m"}})
    EXPECT_GT(find(all, part, quantity).value, 0.0) << part;
}

// A loaded Q of less than 3 does not start, of less than 5 may not, and above that does.
TEST(Limits, LowLoadedQDoesNotStart) {
  Bench h;
  h.drive().supply_limit.reset();
  // Loaded Q is about w L/R, w L some 0.7 ohm here.
  for (const auto& [ohms, verdict] : {std::pair{0.06, Verdict::ok}, std::pair{0.18, Verdict::watch},
                                      std::pair{0.32, Verdict::stop}}) {
    h.coil.value.resistance_ohm = ohms;
    const LimitResult r = find(h.limits(), "start-up", "loaded_q");
    EXPECT_EQ(r.verdict, verdict) << ohms << " " << r.value;
    EXPECT_NEAR(*r.fraction, 3.0 / r.value, 1e-12);
  }
}

// Gate time is judged by its share of half a period: watch above a tenth, stop where it fills it,
// and the time advised passes.
TEST(Limits, GateTimeIsJudgedByTheHalfPeriod) {
  Bench h;
  for (const auto& [share, verdict] : {std::pair{0.05, Verdict::ok}, std::pair{0.2, Verdict::watch},
                                       std::pair{1.1, Verdict::stop}}) {
    const double half_period = solve_tank(h.circuit, h.coil).running.half_period_s;
    h.drive().transistor.gate_time = share * half_period;
    const LimitResult r = find(h.limits(), "switch", "gate_time_over_half_period");
    EXPECT_NEAR(r.value, share, 1e-9);
    EXPECT_EQ(r.verdict, verdict);
    EXPECT_EQ(r.advice.empty(), verdict == Verdict::ok);
  }
}

// The current of a latched pair reaches the fuse's rating after L I/V, corrected for resistance. If
// the resistance keeps it below the rating, the advice says that the fuse will never open.
TEST(Limits, LatchedPairAgainstItsFuse) {
  Bench h;
  h.drive().fuse = 30.0;
  // Two chokes of 130 uH side by side, 36 V, no resistance to speak of: 65 uH 30 A/36 V = 54.2 us.
  const LimitResult quick = find(h.limits(), "both switches stuck on", "time_to_fuse_s");
  EXPECT_NEAR(quick.value, 54.17e-6, 0.4e-6);
  EXPECT_GT(quick.value, 54.16e-6);
  EXPECT_EQ(find(h.limits(), "fuse", "current_A").verdict, Verdict::ok);
  // 36 V over 65 uH.
  EXPECT_NE(find(h.limits(), "start-up", "loaded_q").advice.find("554 mA every microsecond"),
            std::string::npos);
  h.drive().battery_resistance = 1.5;
  const LimitResult never = find(h.limits(), "both switches stuck on", "current_A");
  EXPECT_NEAR(never.value, 36 / 1.51, 1e-6);
  EXPECT_EQ(never.verdict, Verdict::watch);
}

// Nobody's limit is invented: without ratings only physical limits and figures remain.
TEST(Limits, NothingIsInvented) {
  Bench h;
  h.circuit.tank.can_limits.reset();
  h.drive().transistor.voltage_limit.reset();
  h.drive().choke.saturation.reset();
  h.heater.coil.turns = 1;  // no gap between turns
  h.drive().supply_limit.reset();
  ASSERT_GE(h.limits().size(), 2U);
  for (const LimitResult& r : h.limits())
    EXPECT_EQ(r.limit.has_value(), r.part == "start-up") << r.part;
}

}  // namespace
}  // namespace cw
