// The harmonic model of tank, drive and supply against time stepping of the circuit itself: two
// ideal switches that change over where the tank voltage is zero, chokes, coil and capacitors. The
// two share no formula.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "solver/circuit/solve_tank.hpp"

namespace {

constexpr double pi = std::numbers::pi;

struct Parts {
  double supply, capacitance, inductance, resistance;
  int chokes;
  double choke_inductance, choke_resistance, switch_resistance;
};

/// Tank voltage, coil current, choke currents (the second is unused with one choke).
using State = std::array<double, 4>;

/// Rates of change; `side` +1 while the tank voltage is positive and drain 1 lies at earth.
State rates(const Parts& p, const State& s, int side) {
  const auto [v, coil, i1, i2] = s;
  State d{};
  d[1] = (v - p.resistance * coil) / p.inductance;
  const double drop = p.switch_resistance * (i1 + i2);
  if (p.chokes == 1) {
    d[0] = (0.5 * side * i1 - coil) / p.capacitance;
    d[2] = (p.supply - p.choke_resistance * i1 - drop - 0.5 * side * v) / p.choke_inductance;
    return d;
  }
  const double drain1 = drop + (side > 0 ? 0.0 : -v);
  const double drain2 = drop + (side > 0 ? v : 0.0);
  d[0] = ((side > 0 ? i2 : -i1) - coil) / p.capacitance;
  d[2] = (p.supply - p.choke_resistance * i1 - drain1) / p.choke_inductance;
  d[3] = (p.supply - p.choke_resistance * i2 - drain2) / p.choke_inductance;
  return d;
}

State ahead(const State& s, const State& d, double h) {
  State next{};
  for (std::size_t i = 0; i < s.size(); ++i) next[i] = s[i] + h * d[i];
  return next;
}

/// One classical Runge-Kutta step of fourth order.
State step(const Parts& p, const State& s, int side, double h) {
  const State a = rates(p, s, side);
  const State b = rates(p, ahead(s, a, h / 2), side);
  const State c = rates(p, ahead(s, b, h / 2), side);
  const State d = rates(p, ahead(s, c, h), side);
  State next{};
  for (std::size_t i = 0; i < s.size(); ++i) {
    next[i] = s[i] + h / 6 * (a[i] + 2 * b[i] + 2 * c[i] + d[i]);
  }
  return next;
}

/// The part of `h` after which the tank voltage is zero, by halving.
double crossing(const Parts& p, const State& s, int side, double h) {
  double low = 0.0, high = h;
  for (int i = 0; i < 45; ++i) {
    const double middle = 0.5 * (low + high);
    (side * step(p, s, side, middle)[0] > 0.0 ? low : high) = middle;
  }
  return high;
}

struct Measured {
  double frequency = 0.0, voltage_peak = 0.0, voltage_rms = 0.0, coil_rms = 0.0;
  double supply_mean = 0.0, choke_low = 1e99, choke_high = -1e99;
};

/// Sums over the whole periods that are measured.
struct Meter {
  Measured m;
  double time = 0.0;
  void take(const State& s, double h) {
    time += h;
    m.voltage_peak = std::max(m.voltage_peak, std::abs(s[0]));
    m.voltage_rms += h * s[0] * s[0];
    m.coil_rms += h * s[1] * s[1];
    m.supply_mean += h * (s[2] + s[3]);
    m.choke_low = std::min(m.choke_low, s[2]);
    m.choke_high = std::max(m.choke_high, s[2]);
  }
  Measured read(int periods) {
    m.frequency = periods / time;
    m.voltage_rms = std::sqrt(m.voltage_rms / time);
    m.coil_rms = std::sqrt(m.coil_rms / time);
    m.supply_mean /= time;
    return m;
  }
};

/// Steps the circuit until periodic, from near its steady state so that this takes not too long.
Measured simulate(const Parts& p, const cw::TankPoint& guess) {
  const double omega = guess.frequency.omega();
  const double h = 1.0 / (guess.frequency.hertz * 240.0);
  const double peak = guess.voltage_peak_V;
  const double swing = p.chokes == 2 ? peak / (2.0 * omega * p.choke_inductance) : 0.0;
  const double mean = guess.supply_current_A / p.chokes;
  State s{0.0, -peak / (omega * p.inductance), mean - swing, p.chokes == 2 ? mean + swing : 0.0};
  int side = 1;
  const int settle = 400 + static_cast<int>(60.0 * guess.loaded_q);
  const int periods = 40;
  Meter meter;
  for (int half = 0; half < 2 * (settle + periods); ++half) {
    const bool measured = half >= 2 * settle;
    for (bool crossed = false; !crossed;) {
      double taken = h;
      State next = step(p, s, side, h);
      crossed = side * next[0] <= 0.0;
      if (crossed) next = step(p, s, side, taken = crossing(p, s, side, h));
      s = next;
      if (measured) meter.take(s, taken);
    }
    side = -side;
  }
  return meter.read(periods);
}

Parts parts_of(double q, int chokes, double choke_ratio) {
  const double L = 1e-6, C = 2e-6;
  return {.supply = 48.0, .capacitance = C, .inductance = L, .resistance = std::sqrt(L / C) / q,
          .chokes = chokes, .choke_inductance = choke_ratio * L, .choke_resistance = 0.0,
          .switch_resistance = 0.0};
}

cw::TankPoint predict(const Parts& p) {
  cw::TankCircuit c;
  c.tank.bank.capacitance_F = p.capacitance;
  c.tank.chokes = {p.chokes, p.choke_inductance, p.choke_resistance};
  c.drive.supply.voltage_V = p.supply;
  c.drive.switches.resistance_ohm = p.switch_resistance;
  const auto coil = [&](cw::Frequency) {
    return cw::CoilImpedance{.resistance_ohm = p.resistance, .inductance_H = p.inductance};
  };
  return cw::solve_tank(c, coil).demand;
}

TEST(Print, Table) {
  for (int n : {2, 1}) for (double ratio : {10.0, 30.0, 100.0, 1000.0}) for (double q : {3., 4., 5., 7., 14., 35., 60.}) {
    const Parts p = parts_of(q, n, ratio);
    const auto a = predict(p); const auto m = simulate(p, a);
    printf("n%d ratio %5g Q %3g (%.3f): f %+.3e peak %+.3e rms %+.3e I %+.3e coil %+.3e ripple %+.3e crest %+.3e | xQ2 f %.3f pk %.3f rms %.3f I %.3f\n", n, ratio, q, a.loaded_q,
      m.frequency/a.frequency.hertz-1, m.voltage_peak/a.voltage_peak_V-1, m.voltage_rms/a.voltage_rms_V-1, m.supply_mean/a.supply_current_A-1, m.coil_rms/a.coil_current_rms_A-1,
      (m.choke_high-m.choke_low)/a.choke.ripple_peak_to_peak_A-1, m.choke_high/a.choke.peak_A-1,
      (m.frequency/a.frequency.hertz-1)*q*q, (m.voltage_peak/a.voltage_peak_V-1)*q*q,(m.voltage_rms/a.voltage_rms_V-1)*q*q,(m.supply_mean/a.supply_current_A-1)*q*q);
  }
}
}  // namespace
