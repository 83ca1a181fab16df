#include "solver/circuit/tank.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>
#include <variant>

#include "solver/circuit/resonance.hpp"

namespace {

using std::numbers::pi;

cw::Tank bank_of(double capacitance) {
  cw::Tank tank;
  tank.capacitance = capacitance;
  return tank;
}

cw::TankCircuit circuit_of(double capacitance) {
  return {bank_of(capacitance), {}};
}

cw::CoilCurve constant(double resistance, double inductance) {
  return [=](cw::Frequency) {
    return cw::CoilImpedance{.resistance_ohm = resistance, .inductance_H = inductance};
  };
}

// A capacitor of dissipation factor tan delta loses V^2 w C tan delta/(1 + tan^2 delta): definition
// of the dissipation factor with the resistance in series.
TEST(Bank, DissipationFactorIsLossOverReactivePower) {
  cw::Tank bank = bank_of(2e-6);
  bank.dissipation_factor = 0.02;
  for (const double hertz : {3e4, 1e5, 3e5}) {
    const cw::Frequency f{hertz};
    const auto y = 1.0 / cw::bank_impedance(bank, f);
    EXPECT_NEAR(y.real() / y.imag(), 0.02, 1e-14);
    EXPECT_NEAR(y.real() / (f.omega() * 2e-6 * 0.02 / 1.0004), 1.0, 1e-13);
  }
  bank.esr = 1e-3;
  EXPECT_NEAR(cw::bank_impedance(bank, {1e5}).real(), 1e-3 + 0.02 / (2e5 * pi * 2e-6), 1e-15);
}

// The choke's admittance as derived: the fundamental of the ripple, integrated numerically over
// half a period, is the quadrature current of the stated inductance; and two chokes add 2 L.
TEST(Chokes, RippleActsAsTheStatedInductance) {
  const int n = 100000;
  double quadrature = 0.0, height = 0.0;  // of j(theta) in units of V/(w L); dj/dtheta below
  for (int i = 0; i < n; ++i) {
    const double theta = pi * (i + 0.5) / n;
    height += (1.0 - 0.5 * pi * std::sin(theta)) * pi / n;
    quadrature += 2.0 / pi * height * std::cos(theta) * pi / n;
  }
  const cw::Frequency f{1e5};
  const double unit = 1.0 / (f.omega() * 50e-6);
  const double ripple = quadrature / pi * unit;  // over V_peak = pi V
  EXPECT_NEAR(cw::choke_admittance({1, 50e-6, 0.01}, f).imag() / (-0.5 * ripple), 1.0, 1e-4);
  EXPECT_NEAR(cw::choke_admittance({2, 50e-6, 0.0}, f).imag() / (-ripple - 0.5 * unit), 1.0, 1e-4);
  EXPECT_NEAR(cw::choke_admittance({2, 50e-6, 0.0}, f).imag() / (-unit * (1.0 - 4.0 / (pi * pi))),
              1.0, 1e-12);
  EXPECT_EQ(std::abs(cw::choke_admittance({2}, f)), 0.0);
}

// The root is where w^2 = 1/(LC) - (R/L)^2 (closed form), whatever frequency the search starts
// from, up to the last thousandth below R = sqrt(L/C).
TEST(Resonance, ConstantCoilMeetsTheClosedForm) {
  const double L = 1e-6, C = 2e-6, limit = std::sqrt(L / C);
  for (const double share : {1e-3, 0.1, 0.5, 0.9, 0.999}) {
    for (const double seed : {1e3, 1e5, 1e7}) {
      const auto f = cw::zero_reactance(circuit_of(C), constant(share * limit, L), {seed});
      ASSERT_TRUE(std::holds_alternative<cw::Frequency>(f)) << share;
      const double expected = std::sqrt((1.0 - share * share) / (L * C));
      EXPECT_NEAR(std::get<cw::Frequency>(f).omega() / expected, 1.0, 1e-10) << share;
    }
  }
}

// From R = sqrt(L/C) on there is no such frequency, with chokes or without; resistance and limit
// are given back.
TEST(Resonance, TankBeyondTheLimitWillNotRing) {
  const double limit = std::sqrt(0.5);
  for (const double choke : {20e-6, 1e-3}) {
    cw::TankCircuit tank = circuit_of(2e-6);
    std::get<cw::PushPullDrive>(tank.drive).choke.inductance = choke;
    tank.tank.joints.resistance = 0.1;
    const auto f = cw::zero_reactance(tank, constant(1.001 * limit - 0.1, 1e-6), {1e5});
    ASSERT_TRUE(std::holds_alternative<cw::NoRing>(f));
    const auto& why = std::get<cw::NoRing>(f);
    EXPECT_NEAR(why.resistance_ohm, 1.001 * limit, 1e-12);
    EXPECT_NEAR(why.limit_ohm, limit, 1e-12);
    EXPECT_NEAR(why.undamped.omega(), 1.0 / std::sqrt(2e-12), 1.0);
    EXPECT_TRUE(std::holds_alternative<cw::Frequency>(
        cw::zero_reactance(tank, constant(0.99 * limit - 0.1, 1e-6), {1e5})));
  }
}

// Without loss the bank's own inductance and the joints' add to the coil's, and two chokes lie
// beside both as L/(1 - 4/pi^2): w^2 = (1/(L + Lj) + 1/Lp)/(C (1 + Lc (1/(L + Lj) + 1/Lp))).
TEST(Resonance, OwnInductanceJointsAndChokesCountAsTheCircuitSays) {
  cw::TankCircuit tank = circuit_of(2e-6);
  tank.tank.esl = 30e-9;
  tank.tank.joints.inductance = 20e-9;
  std::get<cw::PushPullDrive>(tank.drive).choke.inductance = 15e-6;
  const auto f = cw::zero_reactance(tank, constant(1e-9, 1e-6), {1e5});
  const double beside = 1.0 / 1.02e-6 + (1.0 - 4.0 / (pi * pi)) / 15e-6;
  const double expected = std::sqrt(beside / (2e-6 * (1.0 + 30e-9 * beside)));
  ASSERT_TRUE(std::holds_alternative<cw::Frequency>(f));
  EXPECT_NEAR(std::get<cw::Frequency>(f).omega() / expected, 1.0, 1e-9);
}

// n - 1 cans are the bank of one can the fewer, each as before.
TEST(Bank, OneCanOpenLeavesTheOthersAsTheyWere) {
  cw::Tank tank = bank_of(2e-6);
  tank.esr = 1e-3;
  tank.esl = 4e-9;
  tank.cans = 4;
  const cw::Tank open = cw::one_can_open(tank);
  EXPECT_EQ(open.cans, 3);
  EXPECT_NEAR(open.capacitance / 3, 2e-6 / 4, 1e-18);
  EXPECT_NEAR(open.esr * 3, 1e-3 * 4, 1e-15);
  EXPECT_NEAR(open.esl * 3, 4e-9 * 4, 1e-20);
}

// With strings of cans in series a whole string falls out with its can.
TEST(Bank, OneCanOpenTakesItsStringWithIt) {
  cw::Tank tank = bank_of(2e-6);
  tank.cans = 12;
  tank.cans_in_series = 3;
  const cw::Tank open = cw::one_can_open(tank);
  EXPECT_EQ(open.cans, 9);
  EXPECT_EQ(open.strings(), 3);
  EXPECT_NEAR(open.capacitance, 2e-6 * 3 / 4, 1e-18);
  EXPECT_NEAR(open.can_capacitance() / tank.can_capacitance(), 1.0, 1e-12);
  EXPECT_NEAR(tank.can_capacitance(), 2e-6 / 4 * 3, 1e-18);
}

// An impossible part is refused, and the message says what to write.
TEST(Tank, ImpossiblePartsAreRefusedWithARemedy) {
  const auto refused = [](const auto& part, const char* remedy) {
    try {
      cw::require_usable(part);
      ADD_FAILURE() << remedy;
    } catch (const std::invalid_argument& e) {
      EXPECT_NE(std::string(e.what()).find(remedy), std::string::npos) << e.what();
    }
  };
  EXPECT_NO_THROW(cw::require_usable(bank_of(2e-6)));
  refused(bank_of(0.0), "capacitance = \"2 uF\"");
  cw::Tank tank = bank_of(2e-6);
  tank.dissipation_factor = 8.0;
  refused(tank, "not per cent");
  refused(cw::Choke{3}, "count = 2");
  refused(cw::Choke{2, 0.0}, "150 uH");
  tank = bank_of(2e-6);
  tank.joints.resistance = -1.0;
  refused(tank, "0.4 mohm");
}

}  // namespace
