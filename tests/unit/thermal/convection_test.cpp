// Natural convection from upright walls in still air, from temperatures to film coefficients.
#include "solver/thermal/convection.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <utility>

#include "solver/thermal/air.hpp"
#include "solver/thermal/exchange.hpp"

namespace cw {
namespace {

// A tall pane in front of a fire loses the heat of a printed example.
TEST(Convection, UprightPlateOfTheTextbook) {
  // F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, example 9.2 (from
  // memory): 0.71 m high, 232 degC, air at 23 degC: Ra = 1.813e9, Nu = 147, h = 7.0 W/(m2 K).
  const NaturalConvection pane{Posture::vertical_cylinder, 0.71, 0.0, Temperature::celsius(23)};
  EXPECT_NEAR(film_coefficient(pane, Temperature::celsius(232)), 7.0, 0.15);
  EXPECT_NEAR(nusselt_vertical_plate(1.813e9, 0.69), 147, 1);
}

// A plate facing up gives off by the fourth root to Ra = 1e7 and by the third above; facing down by
// half the first (McAdams 1954 as in Incropera and DeWitt, ch. 9, from
// memory).
TEST(Convection, PlatesUpAndDown) {
  EXPECT_NEAR(nusselt_plate_up(1e6), 0.54 * 31.6228, 1e-3);
  EXPECT_NEAR(nusselt_plate_up(1e9), 150, 1e-3);
  EXPECT_NEAR(nusselt_plate_down(1e8), 27, 1e-3);
}

// Air at 1 atm against the formulas of the U.S. Standard Atmosphere 1976 (NOAA-S/T 76-1562, eqs 51
// and 53, from memory): kinematic viscosity of an ideal gas by Sutherland's law, conductivity; our
// table is up to 2.5 % lower in conductivity near room temperature. Prandtl numbers of Incropera
// and DeWitt, Table A.4 (from memory), are up to 4 % lower than those of our source.
TEST(Convection, AirOfOtherSources) {
  for (const auto& [kelvin, prandtl] : {std::pair{300., .707},
                                        {350., .700},
                                        {400., .690},
                                        {500., .684},
                                        {700., .695},
                                        {1000., .726}}) {
    const double root = std::pow(kelvin, 1.5);
    const double density = 101325 / (287.053 * kelvin);
    const double viscosity = 1.458e-6 * root / (kelvin + 110.4) / density;
    const double conductivity = 2.64638e-3 * root / (kelvin + 245.4 * std::pow(10., -12 / kelvin));
    const AirProperties air = air_at({kelvin});
    EXPECT_NEAR(air.viscosity / viscosity, 1, .01) << kelvin;
    EXPECT_NEAR(air.conductivity / conductivity, 1, .03) << kelvin;
    EXPECT_NEAR(air.prandtl / prandtl, 1, .05) << kelvin;
  }
}

// A thick upright cylinder loses heat like a plate of its height, a slender one more: the plate's
// law holds to 5 % down to a diameter of 35 heights by Gr^(1/4) (the usual bound of textbooks, E.
// M. Sparrow, J. L. Gregg, Trans. ASME 78 (1956) 1823, from memory).
TEST(Convection, SlenderCylindersLoseMore) {
  const Temperature air = Temperature::celsius(20), surface = Temperature::celsius(420);
  const auto film = [&](double diameter) {
    return film_coefficient({Posture::vertical_cylinder, 0.1, diameter, air}, surface);
  };
  const double plate = film(0.0);
  EXPECT_NEAR(film(1e4) / plate, 1.0, 1e-3);
  double before = plate;
  for (const double diameter : {0.1, 0.03, 0.01, 0.003}) {
    EXPECT_GT(film(diameter), before) << diameter;
    before = film(diameter);
  }
  for (const double grashof : {1e5, 1e7, 1e9})
    EXPECT_NEAR(slender_cylinder(grashof, 0.7, std::pow(grashof, 0.25) / 35), 1.05, 0.01)
        << grashof;
}

// The table gives what the correlation gives, between its lines and beside the air too.
TEST(Convection, TableFollowsTheCorrelation) {
  const NaturalConvection wall{Posture::vertical_cylinder, 0.1, 0.02, Temperature::celsius(20)};
  const TabulatedConvection table(wall);
  for (const double kelvin : {250.0, 294.5, 310.3, 700.7, 1600.2}) {
    const double flux = film_coefficient(wall, {kelvin}) * (kelvin - wall.air.kelvin);
    EXPECT_NEAR(table.at(kelvin).value / flux, 1.0, kelvin < 300 ? 0.02 : 1e-4) << kelvin;
    EXPECT_NEAR(table.at(kelvin).slope, table.at(kelvin + 0.01).slope, 0.1) << kelvin;
  }
  EXPECT_NEAR(table.at(wall.air.kelvin).value, 0.0, 0.5);
}

// A plate colder than the air is one turned over.
TEST(Convection, ColdPlatesAreTurnedOver) {
  const Temperature air = Temperature::celsius(50);
  const auto film = [&](Posture posture, double celsius) {
    return film_coefficient({posture, 0.02, 0.0, air}, Temperature::celsius(celsius));
  };
  EXPECT_GT(film(Posture::facing_up, 60), 1.5 * film(Posture::facing_down, 60));
  EXPECT_GT(film(Posture::facing_down, 40), 1.5 * film(Posture::facing_up, 40));
}

}  // namespace
}  // namespace cw
