// The parts round the coil, compared with printed worked examples and tables.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/circuit/breakdown.hpp"
#include "solver/circuit/filaments.hpp"
#include "solver/circuit/flat_conductor.hpp"
#include "solver/circuit/nearby_steel.hpp"
#include "solver/circuit/ring_core_choke.hpp"
#include "solver/thermal/warming.hpp"
#include "tests/published/check.hpp"

namespace cw::published {
namespace {

// The core's A_L from its size, and the turns for a wanted inductance, are those of the table.
// Source: P. Miles (VK6YSF), Toroidal iron core inductor design,
// vk6ysf.com/iron_toroidial_core_inductor_design.htm (read): 12.70 x 7.62 x 4.826 mm, permeability
// 10: 49 uH per 100 turns; 17.27 x 9.398 x 4.826 mm: 57; 23.88 x 14.224 x 7.874 mm: 84; worked
// example there: 12 uH on the first, N = 100 sqrt(12/49).
TEST(Parts, RingCoreHasTheTurnsOfTheAmateursTable) {
  RingCore core{12.70e-3, 7.62e-3, 4.826e-3, 10.0, {}, {}, {}};
  expect_relative(inductance_factor(core), 4.9e-9, 0.01);
  expect_relative(inductance_factor({17.27e-3, 9.398e-3, 4.826e-3, 10.0, {}, {}, {}}), 5.7e-9,
                  0.04);
  expect_relative(inductance_factor({23.88e-3, 14.224e-3, 7.874e-3, 10.0, {}, {}, {}}), 8.4e-9,
                  0.04);
  core.inductance_factor = 4.9e-9;
  const auto choke = wind_choke(core, {0.5e-3, 1.724e-8}, {12e-6, 0.0, 0.0});
  ASSERT_TRUE(choke);
  EXPECT_EQ(choke->turns, static_cast<int>(std::ceil(100 * std::sqrt(12.0 / 49))));
}

// Field inside a toroid of square section. Source: S. J. Ling, J. Sanny & W. Moebs, University
// Physics Volume 2, OpenStax 2016, last problem of section 12.6 (read): 500 turns, 2 A, section 3 x
// 3 cm, inner radius 25 cm; printed 0.0008 T at the middle, and 7.55e-4 T by mu0 N I/(2 pi r) of
// that section at 26.5 cm.
TEST(Parts, RingCoreFluxIsThatOfTheTextbookToroid) {
  const RingCore core{0.56, 0.50, 0.03, 1.0, {}, {}, {}};
  const double wanted = inductance_factor(core) * 500 * 500;
  const auto choke = wind_choke(core, {1e-3, 1.724e-8}, {wanted * (1 - 1e-9), 2.0, 0.0});
  ASSERT_TRUE(choke);
  EXPECT_EQ(choke->turns, 500);
  expect_relative(choke->flux_density_peak, 7.55e-4, 0.005);
}

// Junction temperatures with and without a heat sink. Source: CUI Inc., How to Select a Heat Sink,
// product training module, 2017, slides 4 and 10 (read): 2.78 W in a TO-220 case at 50 degC of air;
// with the 62 K/W of the case alone 222 degC; 125 degC allow 27 K/W in all, of which 0.5 from
// junction to case and 0.45 to the sink leave 26.05; with a sink of 19.1 K/W 105.7 degC. Lecture
// slides, slideplayer.com/slide/5191918 (read, author not named): 5 W, 3 K/W and 1 K/W, 150 degC at
// 50 degC of air: the sink may have 16 K/W.
TEST(Parts, JunctionTemperatureOfTheTutorials) {
  const Temperature air = Temperature::celsius(50), limit = Temperature::celsius(150);
  expect_relative(sink_allowed({3.0, 1.0, 0.0}, 5.0, air, limit), 16.0, 1e-12);
  // Tolerances: half of the last digit in print; for 26.05 the rounding of 75/2.78 = 26.98 to 27.
  constexpr double watts = 2.78;
  expect_within(junction_temperature({62.0, 0.0, 0.0}, watts, air).in_celsius(), 222, 0.5);
  expect_within(sink_allowed({0.5, 0.45, 0.0}, watts, air, Temperature::celsius(125)), 26.05,
                0.025);
  expect_within(junction_temperature({0.5, 0.45, 19.1}, watts, air).in_celsius(), 105.7, 0.05);
}

// A bar of 100 x 6.3 mm rises by 50 K at 1570 A of direct current. Source: Copper Development
// Association, Copper for Busbars, publication 22 (June 1996), section 10 (appendices), case I
// (read).
TEST(Parts, BusbarRisesAsTheBusbarBookSays) {
  const FlatConductor bar{FlatConductor::Kind::bar, 0.100, 0.0063, 1.0, 0.0, 0.0, 1};
  const ConductorHeat heat = heat_of(bar, 1570, {1e-6}, Temperature::celsius(40));
  ASSERT_TRUE(heat.rise_K);
  expect_relative(*heat.rise_K, 50.0, 0.01);
  EXPECT_FALSE(heat.softens_s);
}

// A track of 0.30 mm by 35 um rises by 10 K at 1 A. Source: the usual reading of the outer-layer
// curves of IPC-2221, Generic Standard on Printed Board Design, 1998, chapter 6 (12 mil of 1 oz
// copper, from memory; figure not looked up). Their usual fit I = 0.048 dT^0.44 A^0.725, A in
// square mil (read in secondary copies), has 1.00 A there.
TEST(Parts, BoardTrackRisesAsTheCurvesSay) {
  const FlatConductor track{FlatConductor::Kind::board, 0.30e-3, 35e-6, 0.1, 0.0, 0.0, 1};
  const ConductorHeat heat = heat_of(track, 1.0, {1e-3}, Temperature::celsius(20));
  ASSERT_TRUE(heat.rise_K);
  expect_relative(*heat.rise_K, 10.0, 0.1);
}

// With a current so large that no heat escapes, the time to 183 degC is that of the adiabatic
// formula. Source: I. M. Onderdonk's equation, 33 (I/A)^2 S = lg(dT/(234 + Ta) + 1), A in circular
// mils (form from memory); no paper of his is known, the earliest print is E. R. Stauffacher,
// General Electric Review 1928 (after D. Brooks, Onderdonk's and Preece's equations: how do they
// compare?, pcdandf.com, opening read).
TEST(Parts, TimeToSofteningIsOnderdonksWhenNothingEscapes) {
  const FlatConductor bar{FlatConductor::Kind::bar, 1e-3, 1e-3, 0.1, 0.0, 0.0, 1};
  const double circular_mil = std::numbers::pi / 4 * 25.4e-6 * 25.4e-6, area = 1e-6 / circular_mil;
  const double current = 400;
  const double seconds = std::log10(143.0 / (234 + 40) + 1) / (33 * std::pow(current / area, 2));
  const ConductorHeat heat = heat_of(bar, current, {1e-3}, Temperature::celsius(40));
  ASSERT_TRUE(heat.softens_s);
  expect_relative(*heat.softens_s, seconds, 0.03);
}

// Identity: solder 30 um thick on 35 um copper carries a tenth of the current at most, whatever the
// frequency; at direct current its share is that of the conductances in parallel.
TEST(Parts, SolderCarriesItsShareOfTheConductance) {
  const FlatConductor track{FlatConductor::Kind::board, 5e-3, 35e-6, 0.1, 30e-6, 0.0, 1};
  const double copper = 35e-6 * 58e6, solder = 30e-6 / 0.145e-6;
  expect_within(solder_share(track, {1.0}, Temperature::celsius(20)), solder / (solder + copper),
                1e-3);
  EXPECT_LT(solder_share(track, {200e3}, Temperature::celsius(20)), 0.11);
}

// Air of 1 cm breaks down at 30.3 kV, long gaps at 24.22 kV/cm, the smallest at no less than
// Paschen's minimum. Source: M. S. Naidu & V. Kamaraju, High Voltage Engineering, chapter 2, 24.22
// pd + 6.08 sqrt(pd) kV in a uniform field at 293 K and 1 atm (from memory, page not looked up);
// minimum of 327 V read in a secondary copy.
TEST(Parts, AirBreaksDownAsTheTextbooksSay) {
  const Temperature room{293.0};
  expect_relative(breakdown_peak_V(0.01, room), 30.3e3, 0.001);
  expect_relative(breakdown_peak_V(10.0, room) / 10.0, 24.22e5, 0.01);
  EXPECT_EQ(breakdown_peak_V(1e-6, room), 327.0);
  EXPECT_LT(breakdown_peak_V(0.01, Temperature::celsius(600)), 0.45 * 30.3e3);
}

/// A circle of many straight filaments, with the current given.
void add_circle(std::vector<Filament>& loops, double radius, double height, double current) {
  constexpr int sides = 720;
  const auto corner = [&](int k) {
    const double angle = 2 * std::numbers::pi * k / sides;
    return Vector3{radius * std::cos(angle), radius * std::sin(angle), height};
  };
  for (int k = 0; k < sides; ++k) loops.push_back({corner(k), corner(k + 1), current});
}

// Net field of two coaxial loops. Source: S. J. Ling, J. Sanny & W. Moebs, University Physics
// Volume 2, OpenStax 2016, worked example "Magnetic field between two loops" of section 12.4
// (read): 10 mA in opposite directions, radii 50 and 100 cm, the point 0.25 m from the first and
// 0.75 m from the second: 5.77e-9 T.
TEST(Parts, LoopsOfTheTextbookExample) {
  std::vector<Filament> loops;
  add_circle(loops, 0.5, -0.25, 0.01);
  add_circle(loops, 1.0, 0.75, -0.01);
  expect_relative(flux_of_filaments(loops, {0, 0, 0})[2], 5.77e-9, 0.001);
}

// Field at the centre of a rectangle, 2 mu0 sqrt(a^2 + b^2)/(pi a b) for sides a and b. Source:
// Biot and Savart's law for four straight pieces, evaluated from the closed form (derivation).
TEST(Parts, LeadLoopHasTheFieldOfARectangle) {
  const Vector3 a{0.03, 0, 0.01}, b{0.15, 0, 0.01}, c{0.15, 0, -0.01}, d{0.03, 0, -0.01};
  const Vector3 field =
      flux_of_filaments({{a, b, 1}, {b, c, 1}, {c, d, 1}, {d, a, 1}}, {0.09, 0, 0});
  const double expected = 2 * mu0 * std::hypot(0.12, 0.02) / (std::numbers::pi * 0.12 * 0.02);
  expect_relative(std::abs(field[1]), expected, 1e-9);
  EXPECT_NEAR(field[0], 0, 1e-15);
}

// A copper ring coupled to a loop of 1 A takes the power of the transformer with a shorted
// secondary. Source: evaluated from its closed form w^2 M^2/(R + j w L) with M by J. C. Maxwell, A
// Treatise on Electricity and Magnetism, 1873, art. 701: at 1 kHz 20.350 uW, M = 23.693 nH.
TEST(Parts, NearbyRingTakesThePowerOfAShortedSecondary) {
  const double section = std::numbers::pi * 0.02 * 0.02;
  const double flux = 23.693002e-9 / section;
  expect_relative(ring_power({0.04, 0.002}, {1 / 5.8e7, 1.0}, {1e3}, flux), 20.350144e-6, 0.01);
}

// Property: a steel ring takes more than a copper one where the current is set by inductance, and
// thick skins obey the surface resistance (Kelvin's wire, large argument).
TEST(Parts, NearbySteelTakesMoreThanCopper) {
  const double copper = ring_power({0.02, 0.003}, {1.7e-8, 1.0}, {100e3}, 1e-4);
  const double steel = ring_power({0.02, 0.003}, {1.7e-7, 100.0}, {100e3}, 1e-4);
  EXPECT_GT(steel, 5 * copper);
  EXPECT_NEAR(bracket_power(2e-3, {1.7e-7, 100.0}, {100e3}, 1e-4) /
                  bracket_power(1e-3, {1.7e-7, 100.0}, {100e3}, 1e-4),
              2.0, 1e-12);
}

// Property: roll-off passes through the two points of the data, and the choke gets more turns to
// compensate for it.
TEST(Parts, RollOffPassesThroughItsPointsAndAsksForTurns) {
  const BiasRollOff data{4e3, 10e3};
  EXPECT_NEAR(permeability_left(data, 4e3), 0.8, 1e-12);
  EXPECT_NEAR(permeability_left(data, 10e3), 0.5, 1e-12);
  RingCore core{40e-3, 24e-3, 15e-3, 60.0, {}, 1.0, {}};
  const ChokeDuty duty{150e-6, 12.0, 3.0};
  const auto straight = wind_choke(core, {2e-3, 1.724e-8}, duty);
  core.roll_off = data;
  const auto bent = wind_choke(core, {2e-3, 1.724e-8}, duty);
  ASSERT_TRUE(straight && bent);
  EXPECT_GT(bent->turns, straight->turns);
  EXPECT_GE(bent->biased_H, 150e-6);
  core.roll_off = BiasRollOff{40, 60};  // little permeability is left at the mean current
  EXPECT_FALSE(wind_choke(core, {2e-3, 1.724e-8}, duty));
}

}  // namespace
}  // namespace cw::published
