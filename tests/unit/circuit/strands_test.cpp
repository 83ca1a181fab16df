#include "solver/circuit/strands.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace {

using std::numbers::pi;
constexpr double strand_copper = 5.8e7;    // [S/m]; only fixes the test's input
constexpr double strand_radius = 0.05e-3;  // [m]

cw::Frequency strand_at_skin_depths(double skins) {
  const double depth = strand_radius / skins;
  return {1.0 / (pi * cw::mu0 * strand_copper * depth * depth)};
}

// AC resistance of one strand. Source: evaluated from the closed form of NBS Circular 74 (1924).
TEST(Strands, SkinFactorFollowsTheKelvinTable) {
  EXPECT_NEAR(cw::strand_resistance_factor(strand_radius, strand_copper,
                                           strand_at_skin_depths(1.0 / std::sqrt(2.0))),
              1.00518673, 1e-8);
  EXPECT_NEAR(cw::strand_resistance_factor(strand_radius, strand_copper,
                                           strand_at_skin_depths(2.0 / std::sqrt(2.0))),
              1.07815875, 1e-8);
  EXPECT_NEAR(cw::strand_resistance_factor(strand_radius, strand_copper,
                                           strand_at_skin_depths(5.0 / std::sqrt(2.0))),
              2.04272506, 1e-8);
  EXPECT_NEAR(cw::strand_resistance_factor(strand_radius, strand_copper, {0.0}), 1.0, 1e-12);
}

// Proximity loss of one strand. Source: the kernel Im(I2(ka)/I0(ka)) evaluated from the closed form
// for a round wire in a transverse field, stated there for a peak field as
// P' = pi omega mu0 a^2 H_peak^2 Im(..); the rms field here is H_peak/sqrt(2), hence the 2.
TEST(Strands, ProximityLossFollowsTheTransverseFieldClosedForm) {
  const struct {
    double skins, kernel;
  } rows[] = {{0.5, 0.06205573}, {1.0, 0.22441027}, {2.0, 0.36930837},
              {3.0, 0.27782233}, {5.0, 0.17951723}, {10.0, 0.09493810}};
  const double peak = 7.0e3;
  for (const auto& row : rows) {
    const cw::Frequency f = strand_at_skin_depths(row.skins);
    const double expected =
        pi * f.omega() * cw::mu0 * strand_radius * strand_radius * peak * peak * row.kernel;
    EXPECT_NEAR(cw::strand_proximity_loss(strand_radius, strand_copper, f, peak / std::sqrt(2.0)) /
                    expected,
                1.0, 1e-7)
        << row.skins;
  }
}

// At low frequency the loss is that of the undisturbed field, pi sigma omega^2 B_peak^2 a^4/8 (the
// elementary integral of J^2/sigma over the section), falling short by (a/delta)^4.
TEST(Strands, ProximityLossHasTheLowFrequencyLimit) {
  const cw::Frequency f = strand_at_skin_depths(0.05);
  const double B_peak = cw::mu0 * 1e3 * std::sqrt(2.0);
  const double expected =
      pi * strand_copper * std::pow(f.omega() * B_peak, 2) * std::pow(strand_radius, 4) / 8.0;
  EXPECT_NEAR(cw::strand_proximity_loss(strand_radius, strand_copper, f, 1e3) / expected, 1.0,
              1e-5);
  EXPECT_EQ(cw::strand_proximity_loss(strand_radius, strand_copper, {0.0}, 1e3), 0.0);
}

// A bundle's resistance is that of its strands side by side, longer by the lay; its loss splits
// into skin and proximity parts that scale with I^2 and H^2.
TEST(Strands, BundleIsItsStrandsSideBySide) {
  const cw::Bundle bundle{
      .strands = 400, .strand_radius = strand_radius, .conductivity = strand_copper};
  const double one = 1.0 / (strand_copper * pi * strand_radius * strand_radius);
  EXPECT_NEAR(cw::bundle_dc_resistance(bundle) / (1.02 * one / 400.0), 1.0, 1e-14);

  const cw::Frequency f = strand_at_skin_depths(0.4);
  const double skin = cw::bundle_loss(bundle, f, 20.0, 0.0);
  const double proximity = cw::bundle_loss(bundle, f, 0.0, 4e6);
  EXPECT_NEAR(skin,
              400.0 * cw::bundle_dc_resistance(bundle) *
                  cw::strand_resistance_factor(strand_radius, strand_copper, f),
              1e-12 * skin);
  EXPECT_NEAR(proximity,
              400.0 * 1.02 * cw::strand_proximity_loss(strand_radius, strand_copper, f, 2e3),
              1e-12 * proximity);
  EXPECT_NEAR(cw::bundle_loss(bundle, f, 20.0, 4e6), skin + proximity, 1e-12 * (skin + proximity));
}

// What cannot be a bundle is refused.
TEST(Strands, ImpossibleBundlesAreRefused) {
  EXPECT_THROW(cw::bundle_dc_resistance(
                   {.strands = 0, .strand_radius = strand_radius, .conductivity = strand_copper}),
               std::invalid_argument);
  EXPECT_THROW(
      cw::bundle_dc_resistance({.strands = 9, .strand_radius = 0.0, .conductivity = strand_copper}),
      std::invalid_argument);
  EXPECT_THROW(cw::bundle_dc_resistance({.strands = 9,
                                         .strand_radius = strand_radius,
                                         .conductivity = strand_copper,
                                         .lay_factor = 0.9}),
               std::invalid_argument);
}

}  // namespace
