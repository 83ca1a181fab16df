#include "solver/circuit/solve_tank.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <random>
#include <stdexcept>

namespace {

using std::numbers::pi;

cw::TankCircuit bench() {
  cw::TankCircuit c;
  c.tank.capacitance = 2e-6;
  c.tank.dissipation_factor = 8e-4;
  c.tank.cans = 20;
  c.tank.joints = {0.4e-3, 20e-9};
  std::get<cw::PushPullDrive>(c.drive).choke = {2, 150e-6, 14e-3};
  std::get<cw::PushPullDrive>(c.drive).supply = 36.0;
  std::get<cw::PushPullDrive>(c.drive).transistor.resistance = 10e-3;
  return c;
}

/// A coil with a workpiece that saturates: invented, smooth, steeper than field solutions are.
cw::CoilImpedance saturating(const cw::CoilPoint& at) {
  const double skin = std::sqrt(at.frequency.hertz / 1e5);
  const double share = 1.0 / (1.0 + at.current_rms_A / 80.0);
  return {.resistance_ohm = 8e-3 * skin + 0.12 * skin * std::pow(share, 0.8),
          .inductance_H = 0.8e-6 + 0.5e-6 * share / skin,
          .lead_resistance_ohm = 0.4e-3 * skin};
}

cw::CoilImpedance linear(cw::Frequency f) {
  const double skin = std::sqrt(f.hertz / 1e5);
  return {.resistance_ohm = 40e-3 * skin,
          .inductance_H = 0.9e-6 + 0.06e-6 / skin,
          .lead_resistance_ohm = 0.4e-3 * skin};
}

/// The solution put back into the circuit's own laws with the coil as it truly is there: relative
/// gaps of the reactance, of the coil's current and of the power.
double gap(const cw::TankCircuit& c, const cw::TankPoint& p, const cw::CoilModel& coil) {
  const cw::CoilImpedance z = coil({p.frequency, p.coil_current_rms_A});
  const double w = p.frequency.omega();
  const std::complex<double> branch(z.resistance_ohm + c.tank.joints.resistance,
                                    w * (z.inductance_H + c.tank.joints.inductance));
  const auto y = cw::tank_admittance(c, z, p.frequency).total();
  const double current = p.voltage_rms_V / std::abs(branch);
  const double power = p.voltage_rms_V * p.voltage_rms_V * y.real();
  const double given = p.voltage_peak_V / pi * p.supply_current_A;
  return std::max({std::abs(y.imag()) / (w * c.tank.capacitance),
                   std::abs(current / p.coil_current_rms_A - 1.0), std::abs(power / given - 1.0)});
}

// A coil that does not saturate is found with three calls from any start, and the point satisfies
// the circuit's laws with the coil as it truly is.
TEST(SolveTank, LinearCoilTakesThreeCalls) {
  const cw::TankCircuit c = bench();
  const auto full = [](const cw::CoilPoint& at) { return linear(at.frequency); };
  for (const double start : {6e4, 1e5, 2e5}) {
    const cw::LocalCoil from{.at = {{start}, 20.0}};
    const auto s = cw::solve_tank(c, cw::LinearCoilModel(linear), {.start = from});
    EXPECT_TRUE(s.converged);
    EXPECT_LE(s.evaluations, 3) << start;
    EXPECT_LT(gap(c, s.demand, full), 1e-5) << start;
  }
}

// Exponents from a body that saturated do not affect a body that no longer does: the point is the
// same for any exponents.
TEST(SolveTank, LinearCoilForgetsWhatDependedOnTheCurrent) {
  const cw::TankCircuit c = bench();
  const auto full = [](const cw::CoilPoint& at) { return linear(at.frequency); };
  cw::LocalCoil from = cw::solve_tank(c, saturating).coil;
  EXPECT_GT(std::abs(from.inductance_by_current), 0.05);
  EXPECT_GT(std::abs(from.resistance_by_current), 0.05);
  from.at.current_rms_A /= 2;
  const auto s = cw::solve_tank(c, cw::LinearCoilModel(linear), {.start = from});
  EXPECT_LT(gap(c, s.demand, full), 1e-5);
  EXPECT_LT(gap(c, s.running, full), 1e-5);
}

// A saturating one is found with four, to 1e-4 in every law, and with two when the state before was
// like it; a tighter tolerance is kept too.
TEST(SolveTank, SaturatingCoilTakesFourCalls) {
  for (const double volts : {12.0, 24.0, 36.0, 48.0, 60.0}) {
    cw::TankCircuit c = bench();
    std::get<cw::PushPullDrive>(c.drive).supply = volts;
    const auto s = cw::solve_tank(c, saturating);
    EXPECT_TRUE(s.converged);
    EXPECT_LE(s.evaluations, 4) << volts;
    EXPECT_LT(gap(c, s.demand, saturating), 1e-4) << volts;
    // From the state before, its exponents kept: a tenth more resistance, as a step of temperature.
    const auto warmer = [](const cw::CoilPoint& at) {
      cw::CoilImpedance z = saturating(at);
      z.resistance_ohm *= 1.1;
      return z;
    };
    const auto next = cw::solve_tank(c, warmer, {.start = s.coil});
    EXPECT_LE(next.evaluations, 2) << volts;
    EXPECT_LT(gap(c, next.demand, warmer), 1e-4) << volts;
    const auto tight = cw::solve_tank(c, saturating, {.start = {}, .tolerance = 1e-9});
    EXPECT_LT(gap(c, tight.demand, saturating), 1e-9) << volts;
  }
}

// Folding back meets the limit exactly, at a lower voltage, with the coil as it is at the lower
// current; the demand stays that of the unlimited supply.
TEST(SolveTank, FoldedSupplyMeetsItsLimit) {
  cw::TankCircuit c = bench();
  const auto open = cw::solve_tank(c, saturating);
  const double demand = open.demand.supply_current_A;
  std::get<cw::PushPullDrive>(c.drive).supply_limit = 0.7 * demand;
  const auto s = cw::solve_tank(c, saturating);
  EXPECT_EQ(s.action, cw::SupplyAction::folded);
  EXPECT_NEAR(s.demand.supply_current_A / demand, 1.0, 1e-5);
  EXPECT_NEAR(s.running.supply_current_A, 0.7 * demand, 1e-12);
  EXPECT_LT(s.running.supply_voltage_V, 36.0);
  EXPECT_LT(gap(c, s.running, saturating), 1e-4);
  EXPECT_LE(s.evaluations - open.evaluations, 3);
  // The same point from the other side: a supply set to the folded voltage gives that current.
  cw::TankCircuit set = bench();
  std::get<cw::PushPullDrive>(set.drive).supply = s.running.supply_voltage_V;
  EXPECT_NEAR(cw::solve_tank(set, saturating).demand.supply_current_A / (0.7 * demand), 1.0, 1e-4);
}

// A breaker or a hiccuping supply stops: nothing runs, and the demand is reported. Below the limit
// they have no effect.
TEST(SolveTank, TrippedSupplyLeavesNothingRunning) {
  cw::TankCircuit c = bench();
  std::get<cw::PushPullDrive>(c.drive).supply_limit = 1.0;
  for (const auto kind : {cw::LimitKind::trip, cw::LimitKind::hiccup}) {
    std::get<cw::PushPullDrive>(c.drive).limit_kind = kind;
    const auto s = cw::solve_tank(c, saturating);
    EXPECT_EQ(s.action,
              kind == cw::LimitKind::trip ? cw::SupplyAction::tripped : cw::SupplyAction::hiccups);
    EXPECT_GT(s.demand.supply_current_A, 1.0);
    EXPECT_EQ(s.running.supply_current_A, 0.0);
    EXPECT_EQ(s.running.power.total_W, 0.0);
    EXPECT_TRUE(s.one_can_open);
  }
  std::get<cw::PushPullDrive>(c.drive).supply_limit = 1e3;
  const auto s = cw::solve_tank(c, saturating);
  EXPECT_EQ(s.action, cw::SupplyAction::within_limit);
  EXPECT_EQ(s.running.supply_current_A, s.demand.supply_current_A);
}

// With one of n cans open the tank voltage stays and the frequency rises, so each of the others
// carries about sqrt(n/(n - 1)) of its current: V w C of a can (closed form of the lossless tank).
TEST(SolveTank, OneCanOpenLoadsTheOthersByTheRiseOfFrequency) {
  cw::TankCircuit c = bench();
  c.tank.cans = 4;
  const auto stiff = [](cw::Frequency) {
    return cw::CoilImpedance{.resistance_ohm = 5e-3, .inductance_H = 1e-6};
  };
  const auto s = cw::solve_tank(c, cw::LinearCoilModel(stiff));
  ASSERT_TRUE(s.one_can_open);
  EXPECT_NEAR(s.one_can_open->can.current_rms_A / s.running.can.current_rms_A, std::sqrt(4.0 / 3.0),
              0.005);
  EXPECT_NEAR(4.0 * s.running.can.current_rms_A, s.running.capacitor_current_rms_A, 1e-9);
  EXPECT_NEAR(4.0 * s.running.can.loss_W, s.running.power.capacitors_W, 1e-9);
  c.tank.cans = 1;
  EXPECT_FALSE(cw::solve_tank(c, cw::LinearCoilModel(stiff)).one_can_open);
}

// A coil too lossy for its bank is reported as such, judged at the frequency it would ring at.
TEST(SolveTank, TankThatCannotRingIsAFindingNotAnError) {
  const auto heavy = [](const cw::CoilPoint&) {
    return cw::CoilImpedance{.resistance_ohm = 0.9, .inductance_H = 1e-6};
  };
  cw::TankCircuit c = bench();
  c.tank.joints = {};
  const auto s = cw::solve_tank(c, heavy);
  ASSERT_TRUE(s.no_ring);
  EXPECT_TRUE(s.converged);
  EXPECT_NEAR(s.no_ring->resistance_ohm, 0.9, 1e-3);
  EXPECT_NEAR(s.no_ring->limit_ohm, std::sqrt(0.5), 1e-3);
  EXPECT_EQ(s.running.supply_current_A, 0.0);
}

// For a linear coil without drops, power is proportional to the square of the supply voltage and to
// the resistance (common practice, no source; follows from P = V^2 G).
TEST(SolveTank, PowerGoesWithTheSquareOfTheSupplyVoltage) {
  cw::TankCircuit c = bench();
  const double power = cw::solve_tank(c, cw::LinearCoilModel(linear)).demand.power.total_W;
  std::get<cw::PushPullDrive>(c.drive).supply *= 2.0;
  EXPECT_NEAR(cw::solve_tank(c, cw::LinearCoilModel(linear)).demand.power.total_W / power, 4.0,
              1e-6);
}

// Stated quantities agree with their definitions: loaded Q, reactive power, peak on a switch.
TEST(SolveTank, ReportedQuantitiesFollowTheirDefinitions) {
  cw::TankCircuit c = bench();
  std::get<cw::PushPullDrive>(c.drive).battery_resistance = 8e-3;
  std::get<cw::PushPullDrive>(c.drive).cable.emplace().resistance = 5e-3;
  const cw::TankPoint p = cw::solve_tank(c, cw::LinearCoilModel(linear)).demand;
  const double volts = p.voltage_rms_V, amps = p.supply_current_A;
  const double fed = p.voltage_peak_V / pi * amps;
  EXPECT_NEAR(p.loaded_q, volts * p.coil_current_rms_A / fed, 1e-9);
  EXPECT_NEAR(p.reactive_power_var, volts * volts * p.frequency.omega() * 2e-6, 1e-8);
  EXPECT_NEAR(p.switch_peak_V, p.voltage_peak_V + 10e-3 * amps, 1e-12);
  EXPECT_NEAR(p.supply_voltage_V, 36.0 - 8e-3 * amps, 1e-12);
  EXPECT_NEAR(p.drive_voltage_V, 36.0 - 13e-3 * amps, 1e-12);
  EXPECT_NEAR(p.half_period_s * p.frequency.hertz, 0.5, 1e-15);
  // A lone capacitor and coil leave 3 w C - 1/(3 w L) = (8/3) w C at 3 f: G/(8 w C).
  EXPECT_NEAR(p.third_harmonic * 8.0 * p.loaded_q, 1.0, 0.02);
  const double squared = p.coil_current_rms_A * p.coil_current_rms_A;
  EXPECT_NEAR(p.power.leads_W, squared * p.coil.lead_resistance_ohm, 1e-12);
  EXPECT_NEAR(p.power.joints_W, squared * 0.4e-3, 1e-12);
}

// Whatever the parts, a tank that rings has finite, positive figures, and its balance closes to
// 1e-6 (in fact to rounding): two thousand random circuits, fixed seed.
TEST(SolveTank, RandomCircuitsGiveFinitePositiveBalancedResults) {
  std::mt19937 random(20240607);
  const auto between = [&](double low, double high) {
    return low * std::pow(high / low, std::uniform_real_distribution<>(0.0, 1.0)(random));
  };
  int rang = 0, folded = 0;
  for (int i = 0; i < 2000; ++i) {
    cw::TankCircuit c;
    c.tank.capacitance = between(1e-7, 2e-5);
    c.tank.dissipation_factor = between(1e-5, 3e-2);
    c.tank.esr = between(1e-6, 3e-3);
    c.tank.esl = between(1e-10, 3e-8);
    c.tank.cans = 1 + i % 40;
    c.tank.joints = {between(1e-6, 2e-3), between(1e-10, 1e-7)};
    std::get<cw::PushPullDrive>(c.drive).choke = {1 + i % 2, between(1e-5, 1e-3),
                                                  between(1e-4, 0.1)};
    std::get<cw::PushPullDrive>(c.drive).supply = between(6.0, 100.0);
    std::get<cw::PushPullDrive>(c.drive).battery_resistance = between(1e-4, 0.05);
    std::get<cw::PushPullDrive>(c.drive).cable.emplace().resistance = between(1e-4, 0.05);
    std::get<cw::PushPullDrive>(c.drive).supply_limit = between(1.0, 300.0);
    std::get<cw::PushPullDrive>(c.drive).transistor.resistance = between(1e-3, 0.1);
    std::get<cw::PushPullDrive>(c.drive).transistor.drop = between(1e-3, 2.0);
    const cw::LocalCoil coil{.at = {{between(2e4, 3e5)}, between(10.0, 300.0)},
                             .value = {between(2e-3, 0.3), between(2e-7, 5e-6), 1e-4},
                             .resistance_by_frequency = between(0.1, 1.0),
                             .resistance_by_current = -between(0.01, 0.6),
                             .inductance_by_frequency = -between(0.001, 0.1),
                             .inductance_by_current = -between(0.001, 0.3)};
    const cw::TankSolution s = cw::solve_tank(c, coil);
    if (s.no_ring) continue;
    ++rang;
    folded += s.action == cw::SupplyAction::folded;
    EXPECT_TRUE(s.converged) << i;
    for (const cw::TankPoint& p : {s.demand, s.running}) {
      EXPECT_LT(std::abs(p.power.imbalance()), 1e-10) << i;
      for (const double x :
           {p.frequency.hertz, p.voltage_rms_V, p.coil_current_rms_A, p.capacitor_current_rms_A,
            p.loaded_q, p.supply_voltage_V, p.supply_current_A, p.power.coil_W, p.power.leads_W,
            p.power.joints_W, p.power.capacitors_W, p.power.switches_W, p.power.chokes_W,
            p.power.cable_W, p.power.battery_W, p.choke.peak_A, p.can.current_rms_A}) {
        ASSERT_TRUE(std::isfinite(x) && x > 0.0) << i << ": " << x;
      }
      EXPECT_LT(gap(c, p, coil), 1e-8) << i;
    }
    EXPECT_LE(s.running.supply_current_A,
              *std::get<cw::PushPullDrive>(c.drive).supply_limit * (1.0 + 1e-12))
        << i;
    EXPECT_LE(s.running.supply_current_A, s.demand.supply_current_A * (1.0 + 1e-9)) << i;
  }
  EXPECT_GT(rang, 1500);
  EXPECT_GT(folded, 200);
}

// A coil without positive resistance and inductance is refused with its values.
TEST(SolveTank, CoilWithoutResistanceIsRefused) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const auto& z :
       {cw::CoilImpedance{0.0, 1e-6}, {1e-3, 0.0}, {nan, 1e-6}, {1e-3, 1e-6, 2e-3}}) {
    EXPECT_THROW(cw::solve_tank(bench(), [&](const cw::CoilPoint&) { return z; }),
                 std::invalid_argument);
  }
}

// If the permitted calls are used up, the result says that it has not converged.
TEST(SolveTank, SaysWhenTheCallsRanOut) {
  const auto s =
      cw::solve_tank(bench(), saturating, {.start = {}, .tolerance = 1e-12, .max_evaluations = 2});
  EXPECT_FALSE(s.converged);
  EXPECT_EQ(s.evaluations, 2);
}

// Property: the balance counts every share once: with shares of 1, 2, 4 ... 128 W no other sum is
// 255 W (binary digits).
TEST(PowerShares, BalanceCountsEveryShareOnce) {
  const cw::PowerShares shares{1, 2, 4, 8, 16, 32, 64, 128, 255};
  EXPECT_EQ(shares.imbalance(), 0.0);
  cw::PowerShares less = shares;
  less.total_W = 2 * 255;
  EXPECT_EQ(less.imbalance(), -0.5);
}

}  // namespace
