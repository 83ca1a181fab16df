#include "solver/field/permeability.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "materials/library.hpp"
#include "materials/magnetisation_curve.hpp"
#include "mesh/generate.hpp"
#include "solver/fem/factorisation.hpp"
#include "solver/field/law_validity.hpp"
#include "solver/field/layering.hpp"
#include "solver/field/surface_field.hpp"

namespace cw {
namespace {

constexpr PermeabilityLaw kLaws[] = {PermeabilityLaw::peak, PermeabilityLaw::fundamental,
                                     PermeabilityLaw::rms};

Magnetisation steel() {
  return find_material("steel-low-carbon").magnetisation.value();
}

// The table gives back the law it was made from, at every field and temperature, for all three
// laws; temperature enters through J(H, T) of the material itself, not through the scaling under
// test.
TEST(EffectiveReluctivity, TableFollowsItsLawAtEveryTemperature) {
  const Magnetisation m = steel();
  for (const PermeabilityLaw law : kLaws) {
    const EffectiveReluctivity table(flux_curve(m), law);
    for (const double t : {20.0, 400.0, 700.0, 765.0, 800.0}) {
      const Temperature temperature = Temperature::celsius(t);
      const FluxCurve flux = [&](double h) { return mu0 * h + m.polarisation(h, temperature); };
      for (double h = 1.0; h < 3e7; h *= 1.7) {
        const double b = effective_flux(flux, h, law);
        const double share = magnetisation_share(m, temperature);
        EXPECT_NEAR(table.relative_permeability(h / std::numbers::sqrt2, share) * mu0 * h / b, 1.0,
                    2e-6)
            << h << " A/m, " << t << " degC";
        EXPECT_NEAR(table.at(0.5 * b * b, share).nu * b / h, 1.0, 2e-5) << h << ", " << t;
      }
    }
  }
}

// The slope is the derivative of ln H = ln(nu B) by ln B.
TEST(EffectiveReluctivity, SlopeIsTheDerivative) {
  const EffectiveReluctivity table(flux_curve(steel()), PermeabilityLaw::rms);
  for (double b = 1e-6; b < 1e4; b *= 1.13) {
    constexpr double e = 1e-5;
    const double up = table.at(b * b * std::exp(2 * e)).nu,
                 down = table.at(b * b * std::exp(-2 * e)).nu;
    EXPECT_NEAR(table.at(b * b).slope, 1 + std::log(up / down) / (2 * e), 2e-3) << b;
  }
}

// No field: the initial permeability. Endless field: that of air, with J on top. Above the Curie
// point: air at any field.
TEST(EffectiveReluctivity, LimitsAreInitialPermeabilityAndAir) {
  const Material material = find_material("steel-low-carbon");
  const EffectiveReluctivity table(flux_curve(material), PermeabilityLaw::rms);
  const double initial = material.initial_permeability(Temperature::celsius(20));
  EXPECT_NEAR(1 / (mu0 * table.at(0.0).nu), initial, 1e-6 * initial);
  EXPECT_NEAR(table.relative_permeability(0.0), initial, 1e-6 * initial);
  const auto far = table.at(1e12);
  EXPECT_NEAR(far.nu * mu0, 1.0, 3e-6);
  EXPECT_LT(far.nu * mu0, 1.0);
  EXPECT_NEAR(far.slope, 1.0, 1e-5);
  const double gone = magnetisation_share(*material.magnetisation, material.magnetisation->curie);
  EXPECT_EQ(gone, 0.0);
  for (const double b : {0.0, 1e-3, 1.0, 10.0}) {
    EXPECT_EQ(table.at(b * b, gone).nu, 1 / mu0);
    EXPECT_EQ(table.at(b * b, gone).slope, 1.0);
  }
}

// For a steep step of height Bs the three laws are Bs, 4/pi Bs (first harmonic of a square wave)
// and sqrt(2) Bs (its rms value); Fourier series of a square wave, any textbook. For a linear metal
// all are the same.
TEST(EffectiveFlux, SquareWaveAndLinearMetal) {
  const FluxCurve step = [](double h) { return 2.0 * h / (h + 1e-3); };
  const double expected[] = {2.0, 8.0 / std::numbers::pi, 2.0 * std::numbers::sqrt2};
  const FluxCurve linear = [](double h) { return 100 * mu0 * h; };
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_NEAR(effective_flux(step, 1e4, kLaws[k]), expected[k], 1e-5 * expected[k]);
    EXPECT_NEAR(effective_flux(linear, 1e4, kLaws[k]), linear(1e4), 1e-12);
  }
}

// A measured curve passes through its points, rises between them, and continues as air beyond the
// last.
TEST(FluxCurve, MeasuredCurveIsMetAndContinuedAsAir) {
  const MagnetisationCurve curve{{0, 200, 500, 1000, 5000, 20000}, {0, .3, .9, 1.2, 1.6, 1.8}, {}};
  ASSERT_TRUE(faults_of(curve).empty());
  const FluxCurve flux = flux_curve(curve);
  for (std::size_t i = 0; i < curve.field.size(); ++i)
    EXPECT_NEAR(flux(curve.field[i]), curve.flux_density[i], 1e-12);
  EXPECT_NEAR(flux(1e6) - flux(2e4), mu0 * (1e6 - 2e4), 1e-9);
  for (double h = 0; h < 3e4; h += 10) EXPECT_GE(flux(h + 10) - flux(h), 0.999 * mu0 * 10) << h;
  for (const PermeabilityLaw law : kLaws) {
    const EffectiveReluctivity table(flux, law);
    for (double b = 1e-4; b < 100; b *= 1.05) EXPECT_GE(table.at(b * b).slope, 0.0) << b;
    EXPECT_NEAR(1 / (mu0 * table.at(0.0).nu), flux(1e-3) / (mu0 * 1e-3), 1.0);
  }
}

// At a knee as sharp as a corner the table stays between its neighbours and rises: cubics that
// would overshoot are cut.
TEST(EffectiveReluctivity, TableOfASharpKneeRises) {
  constexpr double steep = 2000;
  const auto flux = [](double h) { return mu0 * (h + (steep - 1) * std::min(h, 1e3)); };
  const EffectiveReluctivity table{FluxCurve(flux)};
  double before = 0;
  for (double h = 10; h < 1e6; h *= 1.003) {
    const double b = flux(h), found = table.at(0.5 * b * b).nu * b;
    EXPECT_GT(found, before) << h;
    before = found;
    // Three intervals from the knee the table is the curve.
    if (std::abs(std::log(h / 1e3)) > 0.25) {
      EXPECT_NEAR(found / h, 1.0, 2e-3) << h;
    }
  }
}

// A curve that falls, or is below that of air, is refused with the place.
TEST(EffectiveReluctivity, RefusesACurveThatFalls) {
  EXPECT_THROW(EffectiveReluctivity([](double h) { return h < 1e3 ? 1e-3 * h : 2.0 - 1e-4 * h; }),
               SolveError);
  EXPECT_THROW(EffectiveReluctivity([](double h) { return 0.5 * mu0 * h; }), SolveError);
  EXPECT_THROW(flux_curve(find_material("copper-tube")), std::invalid_argument);
}

// Every magnetic material of the library has a table, and rms >= fundamental >= peak permeability,
// as for every curve that bends downwards.
TEST(EffectiveReluctivity, EveryMagneticMaterialHasItsTable) {
  int found = 0;
  for (const std::string& name : material_names()) {
    const Material material = find_material(name);
    if (!material.magnetisation) continue;
    ++found;
    const EffectiveReluctivity peak(flux_curve(material), PermeabilityLaw::peak);
    const EffectiveReluctivity first(flux_curve(material), PermeabilityLaw::fundamental);
    const EffectiveReluctivity rms(flux_curve(material), PermeabilityLaw::rms);
    for (double h = 10; h < 1e6; h *= 2) {
      EXPECT_GE(rms.relative_permeability(h), first.relative_permeability(h) * (1 - 1e-6)) << name;
      EXPECT_GE(first.relative_permeability(h), peak.relative_permeability(h) * (1 - 1e-6)) << name;
    }
    // H must rise with B everywhere, or the field would not be unique.
    double before = 0.0;
    for (double b = 1e-8; b < 1e5; b *= 1.001) {
      const auto [nu, slope] = rms.at(b * b);
      ASSERT_GT(slope, 0.0) << name << ", " << b << " T";
      ASSERT_GT(nu * b, before) << name << ", " << b << " T";
      before = nu * b;
    }
  }
  EXPECT_GE(found, 8);
}

// The law is valid for a thick body and not for a thin saturated one, whose range of error grows as
// it gets thinner; it is valid for a thin body far from saturation.
TEST(LawValidity, ThinSaturatedBodiesAreFlaggedWithTheirError) {
  EXPECT_TRUE(law_validity(5e-3, 1e-3, 0.05).valid);
  double before = 0.05;
  for (const double depths : {1.5, 1.2, 1.0, 0.8, 0.6, 0.3}) {
    const LawValidity v = law_validity(depths * 1e-3, 1e-3, 0.05);
    EXPECT_FALSE(v.valid);
    EXPECT_NEAR(v.depths, depths, 1e-12);
    EXPECT_LT(v.lowest_error, before);
    EXPECT_LE(v.lowest_error, v.highest_error);
    before = v.lowest_error;
  }
  EXPECT_TRUE(law_validity(0.5e-3, 1e-3, 0.97).valid);
  EXPECT_NEAR(law_validity(1.2e-3, 1e-3, 0.05).lowest_error, -0.165, 1e-9);  // between two rows
}

// The error of the law has one hump over thickness, at 1.6 skin depths: the power is too low in
// thin bars, then too high, then almost right. The law counts as valid within 2 %. (tests/published
// measures the error at each depth.)
TEST(LawValidity, HasOneHump) {
  double before = 0.5, lowest = -1.0, highest = -1.0;
  int valid = 0;
  for (double depths = 0.5; depths < 5.0; before = depths, depths += 0.05) {
    const LawValidity v = law_validity(depths * 1e-3, 1e-3, 0.05);
    EXPECT_LT(v.lowest_error, v.highest_error) << depths;
    if (v.valid) {
      EXPECT_LE(std::max(-v.lowest_error, v.highest_error), 0.02) << depths;
      ++valid;
    }
    if (depths > 0.5 && before < 1.6 - 1e-9) {
      EXPECT_GT(v.lowest_error, lowest) << depths;
      EXPECT_GT(v.highest_error, highest) << depths;
    } else if (depths > 0.5) {
      EXPECT_LE(v.lowest_error, lowest + 1e-12) << depths;
      EXPECT_LT(v.highest_error, highest + 1e-12) << depths;
    }
    lowest = v.lowest_error;
    highest = v.highest_error;
  }
  EXPECT_GT(valid, 0);
}

// Layers are laid for a depth that grows with the field, stays below the surface skin depth, and is
// that of initial permeability without field.
TEST(Layering, DepthGrowsWithTheFieldAndStaysBelowTheSurfaceDepth) {
  const EffectiveReluctivity law(flux_curve(steel()), PermeabilityLaw::rms);
  const Frequency f{50e3};
  const double cold = 6e6;
  EXPECT_NEAR(
      layering_skin_depth(law, 1, cold, f, 0),
      skin_depth(cold,
                 find_material("steel-low-carbon").initial_permeability(Temperature::celsius(20)),
                 f),
      1e-9);
  double before = 0;
  for (double h = 1e3; h < 1e6; h *= 3) {
    const double depth = layering_skin_depth(law, 1, cold, f, h);
    EXPECT_GT(depth, before);
    EXPECT_LT(depth, saturated_skin_depth(law, 1, cold, f, h));
    before = depth;
  }
  const Sizing plain, slow = for_saturation(plain);
  EXPECT_EQ(slow.layers, 7);
  EXPECT_GE(layer_depths(slow, 1, 100).back(), layer_depths(plain, 1, 100).back());
}

}  // namespace
}  // namespace cw
