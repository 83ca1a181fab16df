#include "solver/circuit/round_conductor.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace {

using std::numbers::pi;
constexpr double copper = 1.0 / 1.724e-8;  // [S/m]; handbook-typical, only fixes the test's input

/// The frequency at which the outer radius is `skins` skin depths.
cw::Frequency at_skin_depths(const cw::RoundConductor& c, double skins) {
  const double depth = c.outer_radius / skins;
  return {1.0 / (pi * cw::mu0 * c.conductivity * depth * depth)};
}

// Resistance and internal inductance of a round wire follow the classic Kelvin-function table.
// Source: evaluated from the closed form of NBS Circular 74 (1924); agrees with its five printed
// figures (from memory). x = sqrt(2) a/delta. Ratios do not depend on rms or peak.
TEST(RoundConductor, SolidWireFollowsTheKelvinTable) {
  const struct {
    double x, resistance, inductance;
  } rows[] = {{0.5, 1.00032544, 0.99983729},  {1.0, 1.00518673, 0.99740753},
              {2.0, 1.07815875, 0.96113512},  {3.0, 1.31809482, 0.84516653},
              {5.0, 2.04272506, 0.55596812},  {10.0, 3.79857605, 0.28161929},
              {20.0, 7.32767235, 0.14127897}, {100.0, 35.60666471, 0.02828320}};
  const cw::RoundConductor wire{.outer_radius = 1e-3, .conductivity = copper};
  for (const auto& row : rows) {
    const auto z = cw::internal_impedance(wire, at_skin_depths(wire, row.x / std::sqrt(2.0)));
    EXPECT_NEAR(z.resistance_ohm / cw::dc_resistance(wire), row.resistance, 1e-8 * row.resistance);
    EXPECT_NEAR(z.inductance_H / (cw::mu0 / (8.0 * pi)), row.inductance, 1e-8);
  }
}

// A 6 mm tube with 1 mm wall, return outside, has the resistance and inner inductance of the tube
// formula. Source: evaluated from the closed form of H. B. Dwight, Trans. AIEE 41 (1922) 203.
TEST(RoundConductor, TubeFollowsDwight) {
  const struct {
    double hertz, milliohm, nanohenry;
  } rows[] = {{1e3, 1.10165154, 21.871333}, {5e3, 1.19594033, 21.227733},
              {1e4, 1.44383350, 19.556234}, {2e4, 2.04811335, 15.675904},
              {5e4, 3.26222680, 9.841083},  {1e5, 4.53243110, 6.958123},
              {2e5, 6.34486539, 4.923167}};
  const cw::RoundConductor tube{.outer_radius = 3e-3, .wall = 1e-3, .conductivity = copper};
  for (const auto& row : rows) {
    const auto z = cw::internal_impedance(tube, {row.hertz});
    EXPECT_NEAR(1e3 * z.resistance_ohm, row.milliohm, 1e-8 * row.milliohm) << row.hertz;
    EXPECT_NEAR(1e9 * z.inductance_H, row.nanohenry, 1e-6) << row.hertz;
  }
}

// At f = 0 the tube has its section's resistance and the inner inductance of uniform current,
// (mu0/2 pi)[c^4 ln(b/c)/(b^2-c^2)^2 - (3c^2-b^2)/(4(b^2-c^2))] with bore c (elementary integral).
TEST(RoundConductor, DirectCurrentLimitsAreTheElementaryOnes) {
  const double b = 3e-3;
  const double c = 2e-3;
  const cw::RoundConductor tube{.outer_radius = b, .wall = b - c, .conductivity = copper};
  const auto z = cw::internal_impedance(tube, {0.0});
  const double metal = b * b - c * c;
  EXPECT_NEAR(z.resistance_ohm * pi * metal * copper, 1.0, 1e-11);
  const double inductance =
      cw::mu0 / (2.0 * pi) *
      (std::pow(c, 4) * std::log(b / c) / (metal * metal) - (3.0 * c * c - b * b) / (4.0 * metal));
  EXPECT_NEAR(z.inductance_H / inductance, 1.0, 1e-6);
}

// A wall of many skin depths, a bore of zero size and an infinite wall are all solid wires.
TEST(RoundConductor, ThickWallsAreSolid) {
  const cw::RoundConductor solid{.outer_radius = 3e-3, .conductivity = copper};
  cw::RoundConductor other = solid;
  other.wall = std::numeric_limits<double>::infinity();
  EXPECT_EQ(cw::internal_impedance(other, {5e4}).resistance_ohm,
            cw::internal_impedance(solid, {5e4}).resistance_ohm);
  other.wall = 3e-3 - 1e-8;
  EXPECT_NEAR(cw::internal_impedance(other, {1e3}).resistance_ohm /
                  cw::internal_impedance(solid, {1e3}).resistance_ohm,
              1.0, 1e-9);
  other.wall = 2.9e-3;  // 31 skin depths at 1 MHz
  const auto tube = cw::transverse_response(other, {1e6}, 6);
  const auto wire = cw::transverse_response(solid, {1e6}, 6);
  for (std::size_t n = 0; n < 6; ++n) EXPECT_LT(std::abs(tube[n] - wire[n]), 1e-12) << n;
}

// A thin shell in a transverse field responds with one time constant, j x/(1 + j x) with x = omega
// mu0 sigma t b/2 (elementary thin-shell solution); the error is proportional to t/b.
TEST(RoundConductor, ThinShellAnswersATransverseFieldWithOneTimeConstant) {
  const cw::RoundConductor shell{.outer_radius = 10e-3, .wall = 10e-6, .conductivity = copper};
  for (double hertz : {100.0, 1e3, 2e4}) {
    const double x = 2.0 * pi * hertz * cw::mu0 * copper * 10e-6 * 10e-3 / 2.0;
    const std::complex<double> expected =
        std::complex<double>(0.0, x) / std::complex<double>(1.0, x);
    const auto kappa = cw::transverse_response(shell, {hertz}, 1).front();
    EXPECT_LT(std::abs(kappa - expected), 2e-3 * std::abs(expected)) << hertz;
  }
}

// In the thin-skin limit every order is expelled: kappa -> 1 - n (1 - j) delta/b.
TEST(RoundConductor, ThinSkinExpelsEveryOrder) {
  const cw::RoundConductor tube{.outer_radius = 3e-3, .wall = 1e-3, .conductivity = copper};
  const auto kappa = cw::transverse_response(tube, at_skin_depths(tube, 2000.0), 5);
  for (std::size_t n = 1; n <= 5; ++n) {
    const auto order = static_cast<double>(n);
    const std::complex<double> expected = 1.0 - order * std::complex<double>(1.0, -1.0) / 2000.0;
    EXPECT_LT(std::abs(kappa[n - 1] - expected), 2.0 * order * order / (2000.0 * 2000.0)) << n;
  }
}

// Impossible conductors are refused with the value, the allowed range and what to write.
TEST(RoundConductor, ImpossibleConductorsAreRefused) {
  const cw::RoundConductor good{.outer_radius = 3e-3, .wall = 1e-3, .conductivity = copper};
  auto bad = good;
  bad.outer_radius = -3e-3;
  EXPECT_THROW(cw::internal_impedance(bad, {1e5}), std::invalid_argument);
  bad = good;
  bad.wall = -1e-3;
  EXPECT_THROW(cw::internal_impedance(bad, {1e5}), std::invalid_argument);
  bad = good;
  bad.conductivity = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(cw::internal_impedance(bad, {1e5}), std::invalid_argument);
  EXPECT_THROW(cw::internal_impedance(good, {-1.0}), std::invalid_argument);
  EXPECT_NO_THROW(cw::internal_impedance(good, {0.0}));
}

}  // namespace
