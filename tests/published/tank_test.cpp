// Tank and ideal push-pull against closed forms, and against whole heaters worked out by hand from
// a coil whose impedance was computed independently.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/circuit/solve_tank.hpp"
#include "tests/published/check.hpp"

namespace {

using std::numbers::pi;

cw::TankCircuit circuit(double capacitance) {
  cw::TankCircuit c;
  c.tank.capacitance = capacitance;
  std::get<cw::PushPullDrive>(c.drive).supply = 48.0;
  return c;
}

using cw::published::expect_relative;
using cw::published::expect_within;

// A lossless drive on constant L, C, R. Source: evaluated from the closed forms of the coil with
// series resistance beside a capacitor, w^2 = 1/(LC) - (R/L)^2 and R_p = L/(RC), and of the
// current-fed push-pull, V_peak = pi V, P = (pi V)^2/(2 R_p), I = P/V (derivations from the circuit
// laws; no published source read). Figures printed beside them: the same, rounded.
TEST(IdealPushPull, MeetsTheClosedFormsToAMillionth) {
  const struct {
    double L, C, R, kilohertz, watt, supply_A, coil_A;
  } rows[] = {{1e-6, 2e-6, 0.020, 112.4945, 454.7914, 9.47482, 150.7964},
              {1e-6, 2e-6, 0.050, 112.2578, 1136.978, 23.687, 150.7964},
              {1e-6, 2e-6, 0.100, 111.4085, 2273.957, 47.374, 150.7964},
              {0.5e-6, 4e-6, 0.020, 112.3593, 1819.166, 37.8993, 301.593}};
  for (const auto& row : rows) {
    const auto coil = [&](cw::Frequency) {
      return cw::CoilImpedance{.resistance_ohm = row.R, .inductance_H = row.L};
    };
    const cw::TankSolution s = cw::solve_tank(circuit(row.C), coil);
    const cw::TankPoint& p = s.demand;
    const double omega = std::sqrt(1.0 / (row.L * row.C) - std::pow(row.R / row.L, 2));
    const double peak = pi * 48.0;
    const double power = peak * peak * row.R * row.C / (2.0 * row.L);
    const double current = peak / std::sqrt(2.0 * row.L / row.C);
    expect_relative(p.frequency.omega(), omega, 1e-6);
    expect_relative(p.voltage_peak_V, peak, 1e-6);
    expect_relative(p.voltage_rms_V, 106.629191, 1e-6);
    expect_relative(p.power.total_W, power, 1e-6);
    expect_relative(p.power.coil_W, power, 1e-6);
    expect_relative(p.supply_current_A, power / 48.0, 1e-6);
    expect_relative(p.coil_current_rms_A, current, 1e-6);
    expect_relative(p.capacitor_current_rms_A, peak / std::sqrt(2.0) * omega * row.C, 1e-6);
    expect_within(1e-3 * p.frequency.hertz, row.kilohertz, 6e-5);
    expect_relative(p.power.total_W, row.watt, 1e-6);
    expect_relative(p.supply_current_A, row.supply_A, 2e-5);
    expect_relative(p.coil_current_rms_A, row.coil_A, 2e-6);
    EXPECT_LE(s.evaluations, 3);
  }
}

/// A value at 50 and at 100 kHz, a power law between.
struct Pair {
  double at_50, at_100;
  [[nodiscard]] double at(cw::Frequency f) const {
    return at_50 * std::pow(f.hertz / 50e3, std::log2(at_100 / at_50));
  }
};

/// Coil of five rings of copper tube round a long rod: field outside the copper [nH], resistance of
/// the copper and of the rod [mohm]; then the heater at 48 V with 4 uF.
struct Heater {
  Pair nanohenry, coil, work;
  double kilohertz, q, watt, work_watt, coil_A, supply_A;
};

// Seven metals at 48 V and 4 uF: frequency within 0.5 %, powers and currents within 5 %. Second
// method: impedances of a thin-skin ring coil round an infinite linear rod, evaluated by a boundary
// method in ring filaments with the Bessel functions of the rod (no published source); operating
// points evaluated from the closed forms above with those impedances, the copper's internal
// reactance equal to its resistance.
TEST(IdealPushPull, SevenMetalsGiveTheWholeHeatersOfTheRingCoil) {
  const Heater rows[] = {{{648.0891, 647.1029},
                          {4.05045, 5.72854},
                          {1.038069, 1.476230},
                          98.212,
                          56.72,
                          494.75,
                          101.36,
                          263.24,
                          10.31},
                         {{649.0284, 647.7671},
                          {4.05022, 5.72831},
                          {1.320600, 1.880990},
                          98.160,
                          53.75,
                          521.85,
                          128.98,
                          263.10,
                          10.87},
                         {{651.1075, 649.2371},
                          {4.04973, 5.72780},
                          {1.935010, 2.765938},
                          98.044,
                          48.24,
                          580.81,
                          189.11,
                          262.80,
                          12.10},
                         {{666.4959, 660.1119},
                          {4.04647, 5.72437},
                          {6.011366, 8.842744},
                          97.190,
                          28.50,
                          974.64,
                          591.33,
                          260.62,
                          20.30},
                         {{709.2439, 690.4618},
                          {4.04141, 5.71780},
                          {18.84919, 27.25235},
                          94.763,
                          13.02,
                          2079.6,
                          1718.5,
                          254.70,
                          43.32},
                         {{671.6422, 663.7477},
                          {4.04552, 5.72333},
                          {7.185497, 10.68950},
                          96.906,
                          25.40,
                          1090.0,
                          709.45,
                          259.90,
                          22.71},
                         {{729.5127, 705.1583},
                          {4.03574, 5.71350},
                          {10.98808, 24.52275},
                          93.774,
                          14.73,
                          1819.1,
                          1468.2,
                          251.88,
                          37.90}};
  for (const Heater& row : rows) {
    const auto coil = [&](cw::Frequency f) {
      const double copper = 1e-3 * row.coil.at(f);
      return cw::CoilImpedance{.resistance_ohm = copper + 1e-3 * row.work.at(f),
                               .inductance_H = 1e-9 * row.nanohenry.at(f) + copper / f.omega()};
    };
    const cw::TankSolution s = cw::solve_tank(circuit(4e-6), coil);
    const cw::TankPoint& p = s.demand;
    expect_relative(p.frequency.hertz, 1e3 * row.kilohertz, 0.005);
    expect_relative(p.loaded_q, row.q, 0.05);
    expect_relative(p.power.total_W, row.watt, 0.05);
    expect_relative(p.coil_current_rms_A, row.coil_A, 0.05);
    expect_relative(p.supply_current_A, row.supply_A, 0.05);
    const double work =
        p.coil_current_rms_A * p.coil_current_rms_A * 1e-3 * row.work.at(p.frequency);
    expect_relative(work, row.work_watt, 0.05);
    EXPECT_LE(s.evaluations, 3);
  }
}

}  // namespace
