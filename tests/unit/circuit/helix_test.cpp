#include "solver/circuit/helix.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "materials/quantity.hpp"

namespace {

using std::numbers::pi;

struct Step {
  std::array<double, 3> at, along;  // midpoint [m], chord vector [m]
};

/// The winding cut into short chords in plain coordinates.
std::vector<Step> chords(const cw::Helix& h, int count) {
  const auto point = [&](double share) {
    const double phi = 2.0 * pi * h.turns * share;
    const double r = h.radius + (h.radius_end.value_or(h.radius) - h.radius) * share;
    return std::array{r * std::cos(phi), r * std::sin(phi), h.pitch * h.turns * share};
  };
  std::vector<Step> steps(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    const auto from = point(static_cast<double>(i) / count);
    const auto to = point((i + 1.0) / count);
    auto& s = steps[static_cast<std::size_t>(i)];
    s.at = point((i + 0.5) / count);
    for (std::size_t k = 0; k < 3; ++k) s.along[k] = to[k] - from[k];
  }
  return steps;
}

/// Neumann's double sum over `count` chords with 1/sqrt(d^2 + a^2).
double double_sum(const cw::Helix& h, int count) {
  const auto steps = chords(h, count);
  double sum = 0.0;
  for (const Step& p : steps) {
    for (const Step& q : steps) {
      double dot = 0.0;
      double d2 = h.wire_radius * h.wire_radius;
      for (std::size_t k = 0; k < 3; ++k) {
        dot += p.along[k] * q.along[k];
        d2 += (p.at[k] - q.at[k]) * (p.at[k] - q.at[k]);
      }
      sum += dot / std::sqrt(d2);
    }
  }
  return cw::mu0 / (4.0 * pi) * sum;
}

/// Two double sums extrapolated to chords of no length (their error goes with the square).
double brute_force(const cw::Helix& h) {
  const int count = static_cast<int>(300.0 * h.turns);
  return (4.0 * double_sum(h, 2 * count) - double_sum(h, count)) / 3.0;
}

double share(const cw::Helix& h) {
  return cw::helix_correction(h) / cw::ring_inductance(h);
}

// Helix, part turn, cone, flat spiral and steep helix all give the inductance of the brute-force
// double sum over chords in plain coordinates.
TEST(Helix, InductanceAgreesWithABruteForceDoubleSum) {
  const cw::Helix windings[] = {
      {.radius = 25e-3, .pitch = 9e-3, .turns = 5.0, .wire_radius = 3e-3},
      {.radius = 25e-3, .pitch = 9e-3, .turns = 2.5, .wire_radius = 3e-3},
      {.radius = 25e-3, .pitch = 9e-3, .turns = 0.4, .wire_radius = 3e-3},
      {.radius = 15e-3, .radius_end = 45e-3, .pitch = 7e-3, .turns = 4.3, .wire_radius = 2e-3},
      {.radius = 45e-3, .radius_end = 15e-3, .pitch = 0.0, .turns = 4.0, .wire_radius = 2e-3},
      {.radius = 20e-3, .pitch = 150e-3, .turns = 2.2, .wire_radius = 4e-3}};
  for (const auto& h : windings) {
    EXPECT_NEAR(cw::helix_inductance(h) / brute_force(h), 1.0, 5e-6) << h.turns << " " << h.pitch;
  }
}

// A ring closes on itself: at pitch 0 a whole number of turns is the rings, and the correction is
// 0.
TEST(Helix, WholeTurnsWithoutPitchNeedNoCorrection) {
  for (double turns : {1.0, 2.0, 5.0, 10.0}) {
    const cw::Helix h{.radius = 25e-3, .pitch = 0.0, .turns = turns, .wire_radius = 3e-3};
    EXPECT_NEAR(share(h), 0.0, 1e-9) << turns;
    cw::Helix nearly = h;
    nearly.pitch = 1e-6;
    EXPECT_NEAR(share(nearly), 0.0, 1e-5) << turns;
  }
}

// A thin wire is as easy as a thick one: the rule's peaks are resolved whatever their width. The
// reference integrates the closed ring, for which the exact answer is the elliptic closed form.
TEST(Helix, ThinWiresLoseNoAccuracy) {
  for (double wire : {1e-3, 1e-4, 1e-5, 1e-6}) {
    const cw::Helix h{.radius = 25e-3, .pitch = 0.0, .turns = 3.0, .wire_radius = wire};
    EXPECT_NEAR(share(h), 0.0, 1e-7) << wire;
  }
}

// For whole turns at ordinary pitches (1.25 to 2 conductor diameters) the correction lies between
// -1.6 % and +4.5 % of L, and from three turns up it grows with the pitch.
TEST(Helix, CorrectionOfWholeTurnsIsAFewPercentAndGrowsWithPitch) {
  for (double turns : {1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0}) {
    double before = -1.0;
    for (double pitch : {7.5e-3, 9e-3, 10.5e-3, 12e-3}) {
      const cw::Helix h{.radius = 25e-3, .pitch = pitch, .turns = turns, .wire_radius = 3e-3};
      const double now = share(h);
      EXPECT_GT(now, -0.016) << turns << " " << pitch;
      EXPECT_LT(now, 0.045) << turns << " " << pitch;
      if (turns >= 3.0) {
        EXPECT_GT(now, before) << turns << " " << pitch;
      }
      before = now;
    }
  }
}

// The run of the winding is 9 mm a turn on 157 mm: 0.164 %.
TEST(Helix, LengthFactorIsTheSlopeOfTheWinding) {
  const cw::Helix h{.radius = 25e-3, .pitch = 9e-3, .turns = 5.0, .wire_radius = 3e-3};
  EXPECT_NEAR(cw::helix_length_factor(h), std::sqrt(1.0 + std::pow(9.0 / (50.0 * pi), 2)), 1e-14);
  const cw::Helix spiral{.radius = 15e-3, .radius_end = 45e-3, .turns = 4.0, .wire_radius = 2e-3};
  double length = 0.0;
  for (const Step& s : chords(spiral, 20000)) length += std::hypot(s.along[0], s.along[1]);
  EXPECT_NEAR(cw::helix_length_factor(spiral) * 2.0 * pi * 30e-3 * 4.0 / length, 1.0, 3e-4);
}

// Rings are whole; a whole number of turns with a rounding error on top is still that number.
TEST(Helix, RingCountRoundsUpButForgivesRounding) {
  EXPECT_EQ(cw::ring_count(5.0), 5);
  EXPECT_EQ(cw::ring_count(5.0 + 1e-12), 5);
  EXPECT_EQ(cw::ring_count(5.5), 6);
  EXPECT_EQ(cw::ring_count(0.3), 1);
}

// A part turn is spread over whole rings: half a turn in one ring of weight one half.
TEST(Helix, RingsCarryTheWeightOfThePartTurn) {
  const cw::Helix one{.radius = 25e-3, .pitch = 9e-3, .turns = 1.0, .wire_radius = 3e-3};
  cw::Helix half = one;
  half.turns = 0.5;
  EXPECT_NEAR(cw::ring_inductance(half) / cw::ring_inductance(one), 0.25, 1e-14);
}

// It is called inside sweeps: ten turns in well under 3 ms, a cone included.
TEST(Helix, TenTurnsTakeLessThanThreeMilliseconds) {
  const cw::Helix h{
      .radius = 25e-3, .radius_end = 60e-3, .pitch = 9e-3, .turns = 10.5, .wire_radius = 3e-3};
  double best = 1.0;
  for (int i = 0; i < 5; ++i) {
    const auto start = std::chrono::steady_clock::now();
    EXPECT_GT(cw::helix_correction(h), 0.0);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count());
  }
  EXPECT_LT(best, 3e-3);
}

// What cannot be wound is refused.
TEST(Helix, ImpossibleWindingsAreRefused) {
  const cw::Helix good{.radius = 25e-3, .pitch = 9e-3, .turns = 5.0, .wire_radius = 3e-3};
  auto bad = good;
  bad.turns = 0.0;
  EXPECT_THROW(cw::helix_correction(bad), std::invalid_argument);
  bad = good;
  bad.radius_end = -1e-3;
  EXPECT_THROW(cw::helix_correction(bad), std::invalid_argument);
  bad = good;
  bad.wire_radius = 0.0;
  EXPECT_THROW(cw::helix_correction(bad), std::invalid_argument);
  bad = good;
  bad.pitch = std::nan("");
  EXPECT_THROW(cw::helix_correction(bad), std::invalid_argument);
}

}  // namespace
