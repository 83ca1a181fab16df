// Heat from the hot part through sleeves to the coil.
#include "solver/thermal/coaxial_nest.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/fem/forms.hpp"
#include "solver/thermal/air.hpp"
#include "solver/thermal/exchange.hpp"

namespace cw {
namespace {

CoaxialNest bare() {
  CoaxialNest nest;
  nest.hot_radius = 0.007;
  nest.hot = {1100};
  nest.coil_radius = 0.016;
  nest.coil = {300};
  nest.length = 0.06;
  return nest;
}

// Without a wall the heat is that of two grey cylinders and the air between them, in closed form.
TEST(CoaxialNest, BareCylindersInClosedForm) {
  const CoaxialNest nest = bare();
  const double grey = 1 / 0.8 + 0.007 / 0.016 * (1 / 0.1 - 1);
  const double radiated =
      two_pi * 0.007 * 0.06 * 5.670374419e-8 * (std::pow(1100., 4) - std::pow(300., 4)) / grey;
  const double air = two_pi * 0.06 * air_at({700}).conductivity * 800 / std::log(0.016 / 0.007);
  EXPECT_NEAR(heat_to_coil(nest), radiated + air, 1e-6 * (radiated + air));
}

// A wall that fills the gap carries what a cylindrical wall carries.
TEST(CoaxialNest, TightWallConducts) {
  CoaxialNest nest = bare();
  nest.walls = {{0.007, 0.016, 0.2, 0.8}};
  const double expected = two_pi * 0.06 * 0.2 * 800 / std::log(0.016 / 0.007);
  EXPECT_NEAR(heat_to_coil(nest), expected, 1e-6 * expected);
}

// A thin shield that conducts well and has the emissivity of its neighbours halves plane radiation
// (the textbook's radiation shield); here nearly so, since the cylinders are nearly flat.
TEST(CoaxialNest, OneShieldHalvesTheRadiation) {
  CoaxialNest nest;
  nest.hot_radius = 10;
  nest.coil_radius = 10.02;
  nest.hot_emissivity = nest.coil_emissivity = 0.9;
  nest.hot = {1500};
  nest.coil = {300};
  nest.length = 1;
  const double open = heat_to_coil(nest);
  nest.walls = {{10.01, 10.0101, 400, 0.9}};
  EXPECT_NEAR(heat_to_coil(nest) / open, 0.5, 0.03);
}

// Nothing flows from a part that is no hotter than the coil.
TEST(CoaxialNest, ColdPartGivesNothing) {
  CoaxialNest nest = bare();
  nest.hot = {290};
  EXPECT_EQ(heat_to_coil(nest), 0.0);
}

}  // namespace
}  // namespace cw
