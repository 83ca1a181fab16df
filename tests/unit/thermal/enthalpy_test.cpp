// Enthalpy against temperature, and back.
#include "solver/thermal/enthalpy.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

/// Heat capacity of carbon steel, EN 1993-1-2:2005 3.4.1.2 (secondary copy).
Material carbon_steel() {
  Material m = plain_material(30, 7850, 0);
  const auto kelvin = [](double celsius) { return celsius + zero_celsius; };
  using Form = Piece::Form;
  m.heat_capacity.shape = std::vector<Piece>{
      {kelvin(20), kelvin(600), Form::polynomial, {425, .773, -1.69e-3, 2.22e-6}},
      {kelvin(600), kelvin(735), Form::pole, {666, 13002, 738}},
      {kelvin(735), kelvin(900), Form::pole, {545, -17820, 731}},
      {kelvin(900), kelvin(1200), Form::polynomial, {650}}};
  m.heat_capacity.lowest = kelvin(20);
  m.heat_capacity.highest = kelvin(1200);
  return m;
}

Material melting(double solidus, double liquidus) {
  Material m = plain_material(100, 2000, 500);
  m.melting = Melting{{solidus}, {liquidus}, 1e5, {}};
  return m;
}

// The two directions are inverses of each other, through the peak and far beyond the data.
TEST(Enthalpy, InverseOfItsInverse) {
  const EnthalpyLaw law(carbon_steel());
  for (double kelvin = 60; kelvin < 6000; kelvin += 3.7) {
    const Warmth back = law.at(law.of(kelvin));
    EXPECT_NEAR(back.kelvin, kelvin, 1e-9 * kelvin);
    EXPECT_GT(back.slope, 0);
  }
}

// The knots carry the exact integral (400 degC is none: 1 mK of it), so no heat is lost at the
// peak: EN 1993-1-2:2005 3.4.1.2, integrals evaluated from the closed form (201.34448, 335.738,
// 475.428, 632.064, 827.064 kJ/kg).
TEST(Enthalpy, HeatContentOfCarbonSteel) {
  const EnthalpyLaw law(carbon_steel());
  for (const auto& [celsius, kilojoule] : {std::pair{400., 201.34448},
                                           {600., 335.738},
                                           {735., 475.428},
                                           {900., 632.064},
                                           {1200., 827.064}})
    EXPECT_NEAR(law.of(celsius + zero_celsius) / 7850 / 1000, kilojoule, 6e-4) << celsius;
}

// Between knots the temperature stays within the stated 1 mK of the law, at the steepest place too.
TEST(Enthalpy, FaithfulBetweenKnots) {
  const Material steel = carbon_steel();
  const EnthalpyLaw law(steel);
  double worst = 0;
  for (double kelvin = 300; kelvin < 1400; kelvin += .0917) {
    const double exact = 7850 * steel.heat_capacity.integral(Temperature::celsius(20), {kelvin});
    worst = std::max(worst, std::abs(law.at(exact).kelvin - kelvin));
  }
  EXPECT_LT(worst, 1.2e-3);
}

// Melting at one temperature is a step of the latent heat at which T does not change with h.
TEST(Enthalpy, IsothermalMelting) {
  const EnthalpyLaw law(melting(900, 900));
  const double latent = 2000 * 1e5;
  EXPECT_NEAR(law.of_melt(900) - law.of(900), latent, 1e-6 * latent);
  const Warmth half = law.at(law.of(900) + .5 * latent);
  EXPECT_EQ(half.kelvin, 900);
  EXPECT_EQ(half.slope, 0);
  EXPECT_NEAR(law.at(law.of_melt(900) + 1e6).kelvin, 901, 1e-9);
}

// Melting over a range takes the same latent heat, evenly.
TEST(Enthalpy, MeltingOverARange) {
  const EnthalpyLaw law(melting(900, 950));
  EXPECT_NEAR(law.of(950) - law.of(900), 2000 * (1e5 + 50 * 500), 1);
  EXPECT_NEAR(law.at(.5 * (law.of(950) + law.of(900))).kelvin, 925, 1e-6);
}

// Latent heat is spread evenly, also where the heat capacity has places of its own in the range.
TEST(Enthalpy, LatentHeatIsEvenOverTheRange) {
  Material alloy = melting(900, 1000);
  alloy.heat_capacity.shape = Table{{300, 925, 950, 1200}, {500, 500, 700, 700}};
  const EnthalpyLaw law(alloy);
  for (const double kelvin : {925.0, 950.0}) {
    const double sensible = 2000 * alloy.heat_capacity.integral({900.0}, {kelvin});
    const double latent = 2000 * 1e5 * (kelvin - 900) / 100;
    EXPECT_NEAR(law.of(kelvin) - law.of(900), sensible + latent, 1e-9 * latent) << kelvin;
  }
}

// A shared node holds the sum of its bodies' heat at one temperature, even while one of them melts.
TEST(Enthalpy, SharedNode) {
  const EnthalpyLaw steel(carbon_steel()), tin(melting(505, 505));
  const std::vector<VolumeShare> shares{{&steel, .3}, {&tin, .7}};
  for (double kelvin = 250; kelvin < 1600; kelvin += 7.3) {
    const Warmth back = warmth(shares, enthalpy(shares, kelvin));
    EXPECT_NEAR(back.kelvin, kelvin, 1e-8 * kelvin);
    EXPECT_GT(back.slope, 0);
  }
  const double half = .5 * (enthalpy(shares, 505) + enthalpy_of_melt(shares, 505));
  EXPECT_NEAR(warmth(shares, half).kelvin, 505, 1e-8);
  EXPECT_EQ(warmth(shares, half).slope, 0);
}

// Data that would let temperature fall with heat are refused.
TEST(Enthalpy, RefusesWhatDoesNotRise) {
  EXPECT_THROW(EnthalpyLaw{plain_material(1, 1, 0)}, std::invalid_argument);
  EXPECT_THROW(EnthalpyLaw{melting(950, 900)}, std::invalid_argument);
}

}  // namespace
}  // namespace cw
