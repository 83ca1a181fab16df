#include "solver/circuit/push_pull.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "solver/circuit/start_up.hpp"

namespace {

using std::numbers::pi;

cw::PushPullDrive pair_at(double volts, const cw::Choke& choke = {}) {
  cw::PushPullDrive drive;
  drive.supply = volts;
  drive.battery_resistance = 8e-3;
  drive.cable.emplace().resistance = 5e-3;
  drive.transistor.resistance = 10e-3;
  drive.transistor.drop = 0.5;
  drive.choke = choke;
  return drive;
}

// The closed form meets the four statements it was derived from: mean of the choke's voltage zero,
// power of the tank G V_peak^2/2, and all losses on the way.
TEST(PushPull, ClosedFormBalancesVoltageAndPower) {
  for (const int count : {1, 2}) {
    const cw::PushPullDrive drive = pair_at(31.0, {count, 150e-6, 14e-3});
    const double G = 0.08;
    const auto p = cw::drive_at_voltage(drive, G);
    const double I = p.supply_current_A;
    EXPECT_NEAR(31.0 - I * (8e-3 + 5e-3 + 14e-3 / count) - 0.5 - I * 10e-3, p.effective_V, 1e-12);
    const double tank = 0.5 * G * std::pow(pi * p.effective_V, 2);
    const auto lost = cw::drive_losses(drive, I);
    EXPECT_NEAR(tank + lost.switches_W + lost.chokes_W + lost.cable_W + lost.battery_W, 31.0 * I,
                1e-10);
    EXPECT_NEAR(lost.chokes_W, count * std::pow(I / count, 2) * 14e-3, 1e-12);
    EXPECT_NEAR(cw::path_resistance(drive), 10e-3 + 14e-3 / count, 1e-15);
  }
}

// Held at the current that a voltage gave, the drive needs that voltage.
TEST(PushPull, FoldedToItsOwnCurrentIsTheSamePoint) {
  const cw::Choke chokes{2, 150e-6, 14e-3};
  const auto at = cw::drive_at_voltage(pair_at(31.0, chokes), 0.08);
  const auto held = cw::drive_at_current(pair_at(60.0, chokes), 0.08, at.supply_current_A);
  EXPECT_NEAR(held.source_V, 31.0, 1e-11);
  EXPECT_NEAR(held.effective_V, at.effective_V, 1e-11);
}

// Ripple of a choke, by stepping its current through a period of the half-sine waveforms: 0.5511
// V/(f L) for one of two chokes, 0.1053 V/(f L) for a single one; even about its mean.
TEST(PushPull, ChokeRippleIsTheIntegralOfItsVoltage) {
  EXPECT_NEAR(cw::ripple_factor(2), 0.5511, 5e-5);
  EXPECT_NEAR(cw::ripple_factor(1), 0.1053, 5e-5);
  for (const int count : {1, 2}) {
    const int n = 400000;
    double charge = 0.0, low = 0.0, high = 0.0, sum = 0.0;
    for (int i = 0; i < n; ++i) {
      const double wave = pi * std::sin(2.0 * pi * (i + 0.5) / n);
      const double drain = count == 2 ? std::max(wave, 0.0) : 0.5 * std::abs(wave);
      charge += (1.0 - drain) / n;
      low = std::min(low, charge);
      high = std::max(high, charge);
      sum += charge / n;
    }
    EXPECT_NEAR((high - low) / cw::ripple_factor(count), 1.0, 1e-6);
    EXPECT_NEAR(sum, 0.5 * (high + low), 1e-5);
    EXPECT_NEAR(charge, 0.0, 1e-9);
  }
  const auto load = cw::choke_load(cw::Choke{2, 140e-6}, {36.0, 30.0, 35.0}, {1e5});
  EXPECT_NEAR(load.mean_A, 15.0, 1e-12);
  EXPECT_NEAR(load.ripple_peak_to_peak_A, cw::ripple_factor(2) * 2.5, 1e-12);
  EXPECT_NEAR(load.peak_A, 15.0 + 0.5 * load.ripple_peak_to_peak_A, 1e-12);
  EXPECT_NEAR(load.energy_J, 0.5 * 140e-6 * load.peak_A * load.peak_A, 1e-15);
}

// Each limit kind does its own thing, and only above the limit.
TEST(Supply, ActsByItsKindAboveTheLimitOnly) {
  cw::PushPullDrive supply;
  supply.supply = 31.0;
  EXPECT_EQ(cw::act(supply, 1e6), cw::SupplyAction::within_limit);
  supply.supply_limit = 32.0;
  EXPECT_EQ(cw::act(supply, 32.0), cw::SupplyAction::within_limit);
  EXPECT_EQ(cw::act(supply, 32.1), cw::SupplyAction::folded);
  supply.limit_kind = cw::LimitKind::trip;
  EXPECT_EQ(cw::act(supply, 32.1), cw::SupplyAction::tripped);
  supply.limit_kind = cw::LimitKind::hiccup;
  EXPECT_EQ(cw::act(supply, 32.1), cw::SupplyAction::hiccups);
  // Two metres of 10 mm2 copper at 1.724e-8 ohm m (IEC 60028, from memory).
  EXPECT_NEAR(cw::cable_resistance(2.0, 10e-6, 1.724e-8), 6.896e-3, 1e-9);
}

// With both switches on the current rises at n V/L, to the fuse in the time found by stepping
// L di/dt = V - R i, and never to what the resistance forbids.
TEST(StartUp, LatchedPairMeetsTheFuseWhenTheCircuitSays) {
  for (const int count : {1, 2}) {
    cw::PushPullDrive drive = pair_at(48.0, {count, 50e-6, 14e-3, 25.0});
    drive.transistor.drop = 0.0;
    drive.fuse = 100.0;
    const auto latch = cw::latch_up(drive);
    EXPECT_NEAR(latch.rise_A_per_us, count * 0.96, 1e-12);
    const double R = 13e-3 + 14e-3 / count + 5e-3;
    EXPECT_NEAR(latch.final_current_A, 48.0 / R, 1e-9);
    const double L = 50e-6 / count, h = 1e-9;
    double current = 0.0, time = 0.0, saturation = 0.0;
    for (; current < 100.0; time += h) {
      if (current < 25.0 * count) saturation = time;
      const double middle = current + 0.5 * h * (48.0 - R * current) / L;
      current += h * (48.0 - R * middle) / L;
    }
    EXPECT_NEAR(latch.time_to_fuse_s / time, 1.0, 1e-4);
    EXPECT_NEAR(latch.time_to_saturation_s / saturation, 1.0, 1e-3);
    EXPECT_TRUE(std::isinf(cw::latch_time(drive, 1.001 * 48.0 / R)));
  }
  // No resistance: L I/V, with 50 uH and 48 V 100 A in 0.104 ms.
  cw::PushPullDrive bare;
  bare.supply = 48.0;
  bare.choke = {1, 50e-6};
  EXPECT_NEAR(cw::latch_time(bare, 100.0), 1.0417e-4, 1e-8);
  const auto unknown = cw::latch_up(bare);
  EXPECT_TRUE(std::isinf(unknown.time_to_fuse_s) && std::isinf(unknown.final_current_A));
}

// Loaded Q below 5 is doubtful and below 3 fails (common practice, no source).
TEST(StartUp, VerdictFollowsLoadedQ) {
  EXPECT_EQ(cw::start_verdict(2.99), cw::StartVerdict::fails);
  EXPECT_EQ(cw::start_verdict(3.0), cw::StartVerdict::doubtful);
  EXPECT_EQ(cw::start_verdict(4.99), cw::StartVerdict::doubtful);
  EXPECT_EQ(cw::start_verdict(5.0), cw::StartVerdict::starts);
  EXPECT_NEAR(cw::gate_share({1e5}, 0.5e-6), 0.1, 1e-15);
}

// A drive that cannot be is refused.
TEST(PushPull, ImpossibleDriveIsRefused) {
  EXPECT_NO_THROW(cw::require_usable(pair_at(31.0)));
  cw::PushPullDrive drive = pair_at(0.0);
  EXPECT_THROW(cw::require_usable(drive), std::invalid_argument);
  drive = pair_at(31.0);
  drive.supply_limit = 0.0;
  EXPECT_THROW(cw::require_usable(drive), std::invalid_argument);
  drive = pair_at(31.0);
  drive.transistor.drop = 40.0;
  EXPECT_THROW(cw::require_usable(drive), std::invalid_argument);
  drive = pair_at(31.0);
  drive.transistor.resistance = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(cw::require_usable(drive), std::invalid_argument);
  drive = pair_at(31.0);
  drive.cable->resistance = -1.0;
  EXPECT_THROW(cw::require_usable(drive), std::invalid_argument);
  drive = pair_at(31.0, {3});
  EXPECT_THROW(cw::require_usable(drive), std::invalid_argument);
  drive = pair_at(31.0, {2, 0.0});
  EXPECT_THROW(cw::require_usable(drive), std::invalid_argument);
}

}  // namespace
