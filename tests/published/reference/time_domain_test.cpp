// The time-domain reference itself, against what is known in closed form. Fields are PEAK values.
#include "tests/published/reference/time_domain.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/published/check.hpp"
#include "tests/published/reference/skin.hpp"

namespace cw::reference {
namespace {

using cw::published::expect_relative;
using cw::published::expect_within;

Saturation linear(double mu_r) {
  return {[=](double h) { return mu_r * kMu0 * h; }, [=](double) { return mu_r * kMu0; }};
}

/// B = +-Bs, with a steep but finite rise up to H = a.
Saturation step(double saturation, double a) {
  return {[=](double h) { return h < a ? saturation * h / a : saturation + 1e-12 * (h - a); },
          [=](double h) { return h < a ? saturation / a : 1e-12; }};
}

// A thick linear face: impedance rho/delta (1 + j), power H0^2 rho/(2 delta). Source: J. D.
// Jackson, Classical Electrodynamics, 3rd ed., Wiley 1999, 8.1 (from memory).
TEST(TimeDomain, LinearFace) {
  const Metal metal{2e-7, 100};
  const double depth = skin_depth(metal, 10e3);
  const PeriodicResponse r = periodic_response({linear(100), metal.rho, 8 * depth}, 10e3, 1e4);
  expect_relative(r.power, 1e8 * metal.rho / (2 * depth), 2e-4);
  expect_within(r.impedance.real() * depth / metal.rho, 1.0, 2e-4);
  expect_within(r.impedance.imag() * depth / metal.rho, 1.0, 2e-4);
}

// A linear cylinder, radius 0.7 to 10 skin depths: Bessel functions. Source: J. Davies & P.
// Simpson, Induction Heating Handbook, McGraw-Hill 1979 (from memory, page not looked up).
TEST(TimeDomain, LinearCylinder) {
  const Metal metal{2e-7, 100};
  const double depth = skin_depth(metal, 10e3);
  for (const double ratio : {.7, 1.5, 3., 10.}) {
    const double radius = ratio * depth;
    const PeriodicResponse r = periodic_response({linear(100), metal.rho, radius, true}, 10e3, 1e4);
    const double expected = cylinder_power(radius, metal, 10e3, 1e4) / (2 * kPi * radius);
    expect_relative(r.power, expected, 1e-3);
  }
}

// Limiting theory of the step B-H curve: depth d = sqrt(2 H0 rho/(w Bs)), power 8/(3 pi) H0^2
// rho/d, fundamental impedance (16 + 8 j)/(3 pi) rho/d; evaluated from the closed form. 5 MS/m, 50
// kHz, 2 T. Source: W. MacLean, J. Appl. Phys. 25 (1954) 1267; H. M. McConnell, Trans. AIEE 73
// (1954) 226; P. D. Agarwal, Eddy-current losses in solid and laminated iron, Trans. AIEE 78 (1959)
// 169 (all from memory).
TEST(TimeDomain, StepCurveFollowsLimitingTheory) {
  struct Row {
    double field, depth, power;
  };
  for (const Row& row : {Row{1e4, .07978846e-3, 212769.22},
                         {3e4, .1381977e-3, 1105581.3},
                         {1e5, .2523133e-3, 6728353.4}}) {
    const PeriodicResponse r =
        periodic_response({step(2.0, 2e-4 * row.field), 2e-7, 4 * row.depth}, 50e3, row.field);
    expect_relative(r.power, row.power, 2e-3);
    expect_within(r.impedance.real() * row.depth / 2e-7, 1.697652726, 2e-3);
    expect_within(r.impedance.imag() * row.depth / 2e-7, .848826363, 2e-3);
  }
}

// The same theory in three other steels and frequencies, 1 % (figures to four digits). Source:
// MacLean, McConnell and Agarwal as above.
TEST(TimeDomain, StepCurveInThreeSteels) {
  struct Row {
    double hertz, field, rho, saturation, depth, power;
  };
  for (const Row& row : {Row{100e3, 70711, 1.69e-7, 2.08, .1352e-3, 5.304e6},
                         {100e3, 28284, 1.69e-7, 2.08, .08553e-3, 1.342e6},
                         {20e3, 70711, 7.58e-7, 1.53, .7467e-3, 4.308e6}}) {
    const PeriodicResponse r = periodic_response(
        {step(row.saturation, 2e-4 * row.field), row.rho, 4 * row.depth}, row.hertz, row.field);
    expect_relative(r.power, row.power, 3e-3);
  }
}

// Property: twice the cells and twice the steps change the power of saturated steel, thick and
// thin, by less than a thousandth; the difference between heat and power through the surface
// shrinks.
TEST(TimeDomain, GridIsFineEnough) {
  for (const double field : {5e3, 5e4, 2e5})
    for (const double depth : {.1e-3, 3e-3}) {
      const TimeDomainBody body{froehlich(2.08, 2e3), 1.69e-7, depth, depth < 1e-3};
      const PeriodicResponse coarse = periodic_response(body, 100e3, field);
      const PeriodicResponse fine = periodic_response(body, 100e3, field, {480, 960});
      EXPECT_NEAR(coarse.power / fine.power, 1.0, 1e-3) << field << " A/m, " << depth << " m";
      EXPECT_LT(std::abs(coarse.imbalance), 1e-2);
      EXPECT_LT(std::abs(fine.imbalance), .5 * std::abs(coarse.imbalance) + 2e-5);
    }
}

}  // namespace
}  // namespace cw::reference
