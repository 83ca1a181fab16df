// Steady temperatures against closed forms, and the stall.
#include "solver/thermal/steady.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/fem/factorisation.hpp"
#include "solver/thermal/air.hpp"
#include "solver/thermal/view_factor.hpp"
#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

using std::numbers::pi;

/// A rod of two materials end to end, z from 0 to 2 x 40 mm, held cold at the bottom, with a flux
/// into the top.
struct TwoPieceRod {
  ThermalModel model;
  Eigen::VectorXd kelvin;
};

TwoPieceRod two_piece_rod(const std::vector<Contact>& contacts, double flux) {
  const Mesh mesh =
      grid_mesh(steps(0, .01, 3), steps(0, .08, 8), [](Point p) { return p.z < .04 ? 1 : 2; });
  ThermalMesh bodies = make_thermal_mesh(
      mesh, {{1, plain_material(40, 7800, 500)}, {2, plain_material(400, 8900, 390)}}, contacts);
  const auto top = surface_of(bodies, 2, Facing::up), bottom = surface_of(bodies, 1, Facing::down);
  ThermalModel model(std::move(bodies), {{}, {}, {{"cold end", bottom, {300}}}});
  Eigen::VectorXd kelvin = steady_heat(model, model.surface_load(top, flux), {300}).kelvin;
  return {std::move(model), std::move(kelvin)};
}

// Across a bond the temperature is continuous, its slope in the ratio of the conductivities:
// straight lines, Carslaw and Jaeger, Conduction of Heat in Solids, 1.6 and 3.2.
TEST(Steady, BondedRodOfTwoMaterials) {
  const double flux = 1e5;
  const TwoPieceRod rod = two_piece_rod({}, flux);
  ASSERT_GT(rod.model.mesh().unknowns(), 0);
  for (int i = 0; i < rod.model.mesh().unknowns(); ++i) {
    const double z = rod.model.mesh().at[i].z;
    const double exact = 300 + flux * (std::min(z, .04) / 40 + std::max(z - .04, 0.) / 400);
    EXPECT_NEAR(rod.kelvin[i], exact, 1e-7);
  }
}

// Across a contact the temperature jumps by flux over conductance, everything else unchanged.
TEST(Steady, ContactConductance) {
  const double flux = 1e5, conductance = 2000;
  const TwoPieceRod rod = two_piece_rod({{1, 2, conductance}}, flux);
  ASSERT_FALSE(rod.model.mesh().contacts.empty());
  for (const ContactEdge& c : rod.model.mesh().contacts)
    for (int i = 0; i < 3; ++i)
      EXPECT_NEAR(std::abs(rod.kelvin[c.other[i]] - rod.kelvin[c.one[i]]), flux / conductance,
                  1e-7);
  EXPECT_NEAR(rod.kelvin.maxCoeff(), 300 + flux * (.04 / 40 + .04 / 400 + 1 / conductance), 1e-6);
}

// A tube between two held walls with k linear in T: the heat flow is that of the mean conductivity
// and k's integral is linear in ln r (Carslaw and Jaeger 1.6, Kirchhoff's transformation).
TEST(Steady, ConductivityOfTemperature) {
  Material steel = plain_material(1, 7800, 500);
  steel.thermal_conductivity = linear_law(54, -.03);
  ThermalMesh bodies =
      make_thermal_mesh(rod_mesh(steps(.005, .02, 24), steps(0, .004, 2)), {{1, steel}}, {});
  const auto in = surface_of(bodies, 1, Facing::inward),
             out = surface_of(bodies, 1, Facing::outward);
  const ThermalModel model(std::move(bodies),
                           {{}, {}, {{"bore", in, {1100}}, {"wall", out, {400}}}});
  const Eigen::VectorXd none = Eigen::VectorXd::Zero(model.mesh().unknowns());
  const SteadyHeat steady = steady_heat(model, none, {700});
  const double mean = 54 - .03 * (750 - 300);
  const double flow = 2 * pi * .004 * mean * 700 / std::log(4.);
  EXPECT_NEAR(steady.by_route[1], flow, 2e-5 * flow);
  EXPECT_NEAR(steady.by_route[0], -flow, 2e-5 * flow);
  const auto integral = [](double t) { return 54 * t - .015 * (t - 300) * (t - 300); };
  const double middle = kelvin_near(model, steady.kelvin, {.01, .002});
  const double share = (integral(1100) - integral(middle)) / (integral(1100) - integral(400));
  EXPECT_NEAR(share, .5, 1e-5);
}

// Rod and sleeve over an air gap, both walls lossless but for the sleeve's outside: what the rod's
// heat passes by radiation and through the air adds up to it. In a gap long against its width the
// exchange is that of endless cylinders, e.g. Incropera and DeWitt, long concentric cylinders.
TEST(Steady, ExchangeAcrossAGap) {
  const double inner = .007, outer = .009, length = .2;
  const Mesh mesh = grid_mesh({0, .0035, inner, outer, .012}, steps(0, length, 40), [&](Point p) {
    return p.r < inner ? 1 : p.r < outer ? 0 : 2;
  });
  ThermalMesh bodies = make_thermal_mesh(
      mesh, {{1, plain_material(1e4, 7800, 500)}, {2, plain_material(1e4, 2000, 800)}}, {});
  Gap gap;
  gap.inner = surface_of(bodies, 1, Facing::outward);
  gap.outer = surface_of(bodies, 2, Facing::inward);
  gap.inner_emissivity = .8;
  gap.outer_emissivity = .5;
  gap.surroundings = {500};
  const auto wall = surface_of(bodies, 2, Facing::outward);
  const ThermalModel model(std::move(bodies), {{}, {gap}, {{"wall", wall, {500}}}});
  const double power = 2000;
  Eigen::VectorXd load = model.mesh().volume;
  for (int i = 0; i < load.size(); ++i)
    if (model.mesh().at[i].r > inner + 1e-6) load[i] = 0;
  load *= power / load.sum();
  const SteadyHeat steady = steady_heat(model, load, {600});
  const double hot = kelvin_near(model, steady.kelvin, {inner, length / 2});
  const double cold = kelvin_near(model, steady.kelvin, {outer, length / 2});
  const double area = 2 * pi * inner * length;
  const double radiated = area * stefan_boltzmann * (std::pow(hot, 4) - std::pow(cold, 4)) /
                          (1 / .8 + inner / outer * (1 / .5 - 1));
  const auto name = [&](const char* wanted) {
    for (std::size_t i = 0; i < model.routes().size(); ++i)
      if (model.routes()[i].name == wanted) return steady.by_route[static_cast<Eigen::Index>(i)];
    return -1.0;
  };
  // 2 mm of a gap of 200 mm see out of each end.
  EXPECT_NEAR(name("radiation to sleeve"), radiated, .015 * radiated);
  EXPECT_LT(name("radiation to surroundings"), .015 * radiated);
  // Air at rest, straight across: conduction through a cylinder wall (any textbook).
  const double conducted = 2 * pi * length * air_at({.5 * (hot + cold)}).conductivity *
                           (hot - cold) / std::log(outer / inner);
  EXPECT_NEAR(name("air to sleeve"), conducted, 5e-3 * conducted);
  EXPECT_NEAR(
      name("radiation to sleeve") + name("air to sleeve") + name("radiation to surroundings"),
      power, 1e-6 * power);
  EXPECT_NEAR(steady.error, 0, 1e-9);
}

// A long rod inside a long coil of fixed temperature loses the heat that infinite cylinders
// exchange, the outer one with the emissivity of metal and openings together; these share it in
// proportion to what they absorb and pass.
TEST(Steady, RadiationToACoil) {
  ThermalMesh bodies = make_thermal_mesh(rod_mesh(steps(0, .007, 2), steps(0, .01, 2)),
                                         {{1, plain_material(1e4, 7800, 500)}}, {});
  const auto wall = surface_of(bodies, 1, Facing::outward);
  GreyPastCylinder coil{.8, .016, -1, 1, {.3, .25}, {320}, {290}};
  const ThermalModel model(std::move(bodies), {{{"radiation to coil", wall, coil}}, {}, {}});
  const auto n = model.mesh().unknowns();
  const Eigen::VectorXd lost =
      model.balance(Eigen::VectorXd::Constant(n, 1200), Eigen::VectorXd::Zero(n)).by_route;
  const double area = 2 * pi * .007 * .01, grey = grey_coaxial({.007, .016}, .8, .3 + .25);
  const auto fourth = [](double t) { return stefan_boltzmann * std::pow(t, 4); };
  EXPECT_NEAR(lost[0], area * .3 / .55 * grey * (fourth(1200) - fourth(320)), 1e-4 * lost[0]);
  EXPECT_NEAR(lost[1], area * .25 / .55 * grey * (fourth(1200) - fourth(290)), 3e-4 * lost[1]);
}

// Without any heat loss there is no steady state, and the error says so.
TEST(Steady, NoWayOut) {
  const ThermalModel model(make_thermal_mesh(rod_mesh(steps(0, .01, 2), steps(0, .01, 2)),
                                             {{1, plain_material(50, 7800, 500)}}, {}),
                           {});
  EXPECT_THROW(steady_heat(model, model.mesh().volume, {300}), SolveError);
}

}  // namespace
}  // namespace cw
