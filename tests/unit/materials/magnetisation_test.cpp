#include <gtest/gtest.h>

#include <cmath>

#include "materials/library.hpp"
#include "materials/magnetisation_curve.hpp"

namespace cw {
namespace {

Temperature celsius_of(double t) {
  return Temperature::celsius(t);
}

/// A library metal with its Curie point moved to a whole kelvin, as the figures below were
/// evaluated.
Magnetisation with_curie(const char* name, double kelvin) {
  Magnetisation m = find_material(name).magnetisation.value();
  m.curie = m.law_curie = {kelvin};
  return m;
}

// Js(T) follows the superellipse law of Perevertov 2025, arXiv:2512.24771, with n = 2.9 for iron
// and 2.65 for nickel; figures evaluated from that closed form with Js(20 degC) = 2.08 T and 0.61
// T, Curie points 1043 K and 629 K.
TEST(Magnetisation, saturation_follows_the_superellipse_law) {
  const std::pair<double, double> steel[] = {
      {20, 2.08},   {100, 2.061}, {200, 2.023}, {300, 1.963}, {350, 1.922}, {400, 1.873},
      {500, 1.739}, {600, 1.534}, {700, 1.166}, {735, 0.928}, {750, 0.768}, {760, 0.605}};
  const Magnetisation iron = with_curie("steel-low-carbon", 1043.0);
  for (const auto& [t, js] : steel) EXPECT_NEAR(iron.saturation_at(celsius_of(t)), js, 5.1e-4) << t;
  const std::pair<double, double> nickel[] = {
      {20, 0.61}, {100, 0.577}, {200, 0.506}, {300, 0.362}, {350, 0.159}};
  const Magnetisation ni = with_curie("nickel", 629.0);
  for (const auto& [t, js] : nickel) EXPECT_NEAR(ni.saturation_at(celsius_of(t)), js, 5.1e-4) << t;
}

// Relative permeability B/(mu0 H) of low-carbon steel at a peak field, evaluated from the
// Froehlich-Kennelly form with Js = 2.08 T and a = 2 kA/m at 20 degC and the superellipse law
// above.
TEST(Magnetisation, permeability_falls_with_field_and_temperature) {
  struct Row {
    double h, cold, at_600, at_735;
  };
  const Row rows[] = {{1e3, 552.7, 494.2, 391.3},
                      {1e4, 138.9, 107.4, 68.8},
                      {5e4, 32.8, 24.7, 15.5},
                      {2e5, 9.2, 7.1, 4.7}};
  const Magnetisation m = with_curie("steel-low-carbon", 1043.0);
  const auto mu = [&](double h, double t) {
    return 1.0 + m.polarisation(h, celsius_of(t)) / (mu0 * h);
  };
  for (const Row& row : rows) {
    EXPECT_NEAR(mu(row.h, 20), row.cold, 0.051) << row.h;
    EXPECT_NEAR(mu(row.h, 600), row.at_600, 0.051) << row.h;
    EXPECT_NEAR(mu(row.h, 735), row.at_735, 0.051) << row.h;
  }
}

// Eutectoid steel loses its magnetism at the transformation, below the Curie point inside its law,
// and is air from there.
TEST(Magnetisation, eutectoid_steel_ends_at_its_transformation) {
  const Material steel = find_material("steel-high-carbon");
  EXPECT_GT(steel.magnetisation->saturation_at(celsius_of(734.9)), 0.5);
  EXPECT_EQ(steel.magnetisation->saturation_at(celsius_of(735.0)), 0.0);
  EXPECT_EQ(steel.magnetisation->polarisation(1e4, celsius_of(800.0)), 0.0);
  EXPECT_EQ(steel.initial_permeability(celsius_of(740.0)), 1.0);
}

// The initial permeability is 1 + Js/(mu0 a) at every temperature below the Curie point; 829 for
// low-carbon steel, evaluated with Js = 2.08 T and a = 2 kA/m.
TEST(Magnetisation, initial_permeability_is_constant_below_curie) {
  const Material steel = find_material("steel-low-carbon");
  EXPECT_NEAR(steel.initial_permeability(celsius_of(20.0)), 828.6, 0.1);
  EXPECT_NEAR(steel.initial_permeability(celsius_of(700.0)), 828.6, 0.1);
  EXPECT_EQ(steel.initial_permeability(celsius_of(771.0)), 1.0);
  EXPECT_DOUBLE_EQ(find_material("stainless-304").initial_permeability(celsius_of(20.0)), 1.008);
}

// A curve made from a known Froehlich law gives that law back.
TEST(MagnetisationCurve, fit_returns_the_law_the_curve_was_made_of) {
  MagnetisationCurve curve;
  for (const double h : {0.0, 500.0, 2e3, 1e4, 5e4, 2e5}) {
    curve.field.push_back(h);
    curve.flux_density.push_back(mu0 * h + 1.7 * h / (h + 3000.0));
  }
  EXPECT_TRUE(faults_of(curve).empty());
  const auto m = froehlich_fit(curve);
  ASSERT_TRUE(m);
  EXPECT_NEAR(m->saturation.value, 1.7, 1e-9);
  EXPECT_NEAR(m->half_field.value, 3000.0, 1e-6);
}

// A curve that falls, runs backwards, is flatter than air or misses the origin is refused; air has
// nothing to fit.
TEST(MagnetisationCurve, refuses_curves_no_metal_has) {
  EXPECT_EQ(faults_of({{0, 1e3, 2e3}, {0, 1.0, 0.9}, {}}).size(), 1U);
  EXPECT_EQ(faults_of({{0, 1e3, 1e3}, {0, 1.0, 1.1}, {}}).size(), 1U);
  EXPECT_EQ(faults_of({{0, 1e3, 1e5}, {0, 1.0, 1.05}, {}}).size(), 1U);
  EXPECT_EQ(faults_of({{10, 1e3, 2e3}, {0, 1.0, 1.1}, {}}).size(), 1U);
  EXPECT_EQ(faults_of({{0, 1e3}, {0, 1.0}, {}}).size(), 1U);
  EXPECT_FALSE(froehlich_fit({{0, 1e3, 2e3, 3e3}, {0, 1.0, 2.0, 3.0}, {}}));
}

// Skin depth at 50 kHz, in mm, evaluated from sqrt(2 rho/(omega mu)), mu0 = 4 pi 1e-7 H/m.
TEST(SkinDepth, matches_the_closed_form) {
  struct Row {
    double rho, mu, mm;
  };
  const Row rows[] = {{1.724e-8, 1, 0.295531}, {2.82e-8, 1, 0.377972},  {6.2e-8, 1, 0.560442},
                      {72e-8, 1, 1.909859},    {16e-8, 100, 0.0900316}, {110e-8, 1, 2.360649}};
  for (const Row& row : rows) {
    EXPECT_NEAR(skin_depth(1.0 / row.rho, row.mu, {50e3}) * 1e3, row.mm, 2e-6 * row.mm) << row.rho;
  }
  EXPECT_TRUE(std::isinf(skin_depth(0.0, 1.0, {50e3})));
}

// Handbook roundings: copper 8.5 mm at 60 Hz, 2.1 mm at 1 kHz, 0.46 mm at 20 kHz, 0.15 mm at 200
// kHz; 300-series stainless (1.4 MS/m) 1.35 mm at 100 kHz (printed tables of skin depth, secondary
// copies).
TEST(SkinDepth, matches_printed_tables) {
  const double copper = 1.0 / 1.724e-8;
  EXPECT_NEAR(skin_depth(copper, 1.0, {60.0}) * 1e3, 8.5, 0.05);
  EXPECT_NEAR(skin_depth(copper, 1.0, {1e3}) * 1e3, 2.1, 0.05);
  EXPECT_NEAR(skin_depth(copper, 1.0, {20e3}) * 1e3, 0.46, 0.01);
  EXPECT_NEAR(skin_depth(copper, 1.0, {200e3}) * 1e3, 0.15, 0.005);
  EXPECT_NEAR(skin_depth(1.4e6, 1.0, {100e3}) * 1e3, 1.35, 0.01);
}

}  // namespace
}  // namespace cw
