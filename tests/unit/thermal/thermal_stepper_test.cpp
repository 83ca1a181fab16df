// Heating in time: energies, routes and events.
#include "solver/thermal/thermal_stepper.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <tuple>

#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

/// Core, loose sleeve and a wall across an air gap, losing heat in every way there is.
ThermalModel busy_model() {
  const Mesh mesh =
      grid_mesh({0, .002, .004, .007, .010, .014, .016, .018}, steps(-.02, .02, 8), [](Point p) {
        return p.r < .007 ? 1 : p.r < .010 ? 2 : p.r < .014 ? 0 : 3;
      });
  Material steel = plain_material(1, 7800, 1), bronze = plain_material(60, 8700, 390);
  steel.thermal_conductivity = linear_law(54, -.02);
  steel.heat_capacity = linear_law(450, .3);
  bronze.melting = Melting{{700}, {700}, 1.9e5, {}};
  ThermalMesh bodies = make_thermal_mesh(
      mesh, {{1, steel}, {2, bronze}, {3, plain_material(2, 2000, 900)}}, {{1, 2, 3000}});
  ThermalBoundary out;
  out.exchanges = {
      {"convection", surface_of(bodies, 3, Facing::outward),
       NaturalConvection{Posture::vertical_cylinder, .04, .036}},
      {"ends", surface_of(bodies, 1, Facing::up), NaturalConvection{Posture::facing_up, .0035}},
      {"ends", surface_of(bodies, 1, Facing::up), Grey{.8}},
      {"radiation to coil", surface_of(bodies, 3, Facing::outward),
       GreyPastCylinder{.9, .02, -.01, .01, {.4, .1}}}};
  Gap gap;
  gap.inner = surface_of(bodies, 2, Facing::outward);
  gap.outer = surface_of(bodies, 3, Facing::inward);
  out.gaps = {gap};
  out.holds = {{"water", surface_of(bodies, 1, Facing::down), {290}}};
  return {std::move(bodies), out};
}

Eigen::VectorXd core_load(const ThermalModel& model, double power) {
  Eigen::VectorXd load = model.mesh().volume;
  for (int i = 0; i < load.size(); ++i)
    if (model.mesh().at[i].r > .0071 || model.mesh().at[i].r < .003) load[i] = 0;
  return load * (power / load.sum());
}

// Supplied = stored + lost by named routes, to rounding, with every kind of loss, a contact, a gap,
// isothermal melting and a source that changes with time; routes between bodies are no part of it.
TEST(ThermalStepper, LedgerClosesToRounding) {
  const ThermalModel model = busy_model();
  ThermalStepper stepper(model, start_at(model, {293.15}));
  stepper.advance(20, constant_source(core_load(model, 900)));
  stepper.advance(60, {20, 60, core_load(model, 900), core_load(model, 300)});
  const HeatLedger ledger = stepper.ledger();
  EXPECT_NEAR(ledger.supplied, 20 * 900 + 40 * 600, 1e-6);
  EXPECT_LT(std::abs(ledger.error()), 1e-11);
  // Repeated steps are counted separately from accepted ones.
  const StepperCost cost = stepper.cost();
  EXPECT_GT(cost.rejected, 0);
  EXPECT_GT(cost.steps, cost.rejected);
  EXPECT_GT(cost.evaluations, 3 * cost.steps);
  ASSERT_EQ(ledger.by_route.size(), model.routes().size());
  for (std::size_t i = 0; i < ledger.by_route.size(); ++i)
    EXPECT_GT(ledger.by_route[i], 1.0) << model.routes()[i].name;
  EXPECT_GT(stepper.warmths().kelvin.maxCoeff(), 700);
  double parts = 0;
  for (std::size_t b = 0; b < 3; ++b) parts += model.stored(stepper.state().enthalpy, b);
  EXPECT_NEAR(parts, model.stored(stepper.state().enthalpy), 1e-9 * parts);
}

// Along a parabola the heat supplied is its integral: what a straight line brings less a sixth of
// the bend by the cube of the time. A method of third order integrates that exactly.
TEST(ThermalStepper, SuppliesTheIntegralOfAParabola) {
  const ThermalModel model = busy_model();
  ThermalStepper stepper(model, start_at(model, {293.15}));
  HeatSource source{0, 30, core_load(model, 900), core_load(model, 300)};
  source.bend = core_load(model, 0.8);
  stepper.advance(30, source);
  EXPECT_NEAR(stepper.ledger().supplied, 30 * 600 - 0.8 * 30 * 30 * 30 / 6, 1e-6);
  EXPECT_LT(std::abs(stepper.ledger().error()), 1e-11);
}

// A run broken off at a checkpoint and resumed from the stored state equals the uninterrupted one
// to the last bit, events included.
TEST(ThermalStepper, ResumedEqualsUninterrupted) {
  const ThermalModel model = busy_model();
  const HeatSource source = constant_source(core_load(model, 900));
  const HeatEvent warm{"warm", {ProbeKind::hottest, 2}, {500}};
  const auto run = [&](ThermalStepper& s, double until) {
    while (s.advance(until, source).time < until) {
    }
  };
  ThermalStepper whole(model, start_at(model, {293.15}));
  whole.watch(warm);
  for (const double t : {10., 25., 40.}) run(whole, t);
  ThermalStepper first(model, start_at(model, {293.15}));
  first.watch(warm);
  for (const double t : {10., 25.}) run(first, t);
  const ThermalState stored = first.state();
  const ThermalModel again = busy_model();
  ThermalStepper second(again, stored);
  second.watch(warm);
  run(second, 40);
  EXPECT_EQ(second.state().time, whole.state().time);
  EXPECT_EQ(second.state().next_step, whole.state().next_step);
  EXPECT_TRUE(second.state().enthalpy == whole.state().enthalpy);
  EXPECT_TRUE(second.state().by_route == whole.state().by_route);
  EXPECT_EQ(second.state().reached, whole.state().reached);
}

// A rod heated and cooled symmetrically stays symmetric, though its triangles are not: the
// difference is the error of the grid.
TEST(ThermalStepper, Symmetry) {
  const Mesh mesh = rod_mesh(steps(0, .007, 5), steps(-.03, .03, 12));
  ThermalMesh bodies = make_thermal_mesh(mesh, {{1, plain_material(30, 7850, 600)}}, {});
  const auto all = surface_of(bodies, 1);
  const ThermalModel model(std::move(bodies), {{{"radiation", all, Grey{.8}}}, {}, {}});
  const auto load =
      model.load(density_of(mesh, [](Point p) { return 4e7 * std::exp(-p.z * p.z / 2e-4); }));
  ThermalStepper stepper(model, start_at(model, {293.15}), {1e-3});
  stepper.advance(20, constant_source(load));
  const Eigen::VectorXd kelvin = stepper.warmths().kelvin;
  const double rise = kelvin.maxCoeff() - 293.15;
  EXPECT_GT(rise, 100);
  for (const double z : {.005, .01, .02, .03})
    for (const double r : {0., .0028, .007})
      EXPECT_NEAR(kelvin_near(model, kelvin, {r, z}), kelvin_near(model, kelvin, {r, -z}),
                  1e-3 * rise);
}

// Events are found in their order at the times of a uniformly heated, lossless rod, melting at one
// temperature between the start and the end of the latent heat: energy over power.
TEST(ThermalStepper, EventsOfMelting) {
  Material metal = plain_material(200, 2700, 900);
  metal.melting = Melting{{933}, {933}, 4e5, {}};
  const Mesh mesh = rod_mesh(steps(0, .01, 3), steps(0, .02, 3));
  const ThermalModel model(make_thermal_mesh(mesh, {{1, metal}}, {}), {});
  ThermalStepper stepper(model, start_at(model, {293.15}), {1e-4});
  stepper.watch({"liquidus", {ProbeKind::coldest, 1}, {933}, true, true});
  stepper.watch({"target", {ProbeKind::coldest, 1}, {1000}});
  stepper.watch({"solidus", {ProbeKind::hottest, 1}, {933}});
  stepper.watch({"half way", {ProbeKind::mean, 1}, {600}});
  const double density = 1e8;
  const auto source = constant_source(model.load(density_of(mesh, [=](Point) { return density; })));
  const auto at = [=](double kelvin, double latent) {
    return 2700 * (900 * (kelvin - 293.15) + latent) / density;
  };
  // In the melt nothing evens out what the tolerance of a step leaves between nodes.
  for (const auto& [event, time, tolerance] : {std::tuple{3U, at(600, 0), 1e-6},
                                               {2U, at(933, 0), 1e-6},
                                               {0U, at(933, 4e5), 1e-4},
                                               {1U, at(1000, 4e5), 1e-4}}) {
    const Advance found = stepper.advance(1000, source);
    ASSERT_EQ(found.events.size(), 1U);
    EXPECT_EQ(found.events.front(), event);
    EXPECT_NEAR(found.time, time, tolerance * time);
  }
  EXPECT_LT(std::abs(stepper.ledger().error()), 1e-12);
}

// Surface and centre are read half-way up the stretch, on the outermost wall and on the axis.
TEST(ThermalStepper, Probes) {
  const ThermalModel model(make_thermal_mesh(rod_mesh(steps(0, .01, 4), steps(0, .06, 7)),
                                             {{1, plain_material(30, 7850, 600)}}, {}),
                           {});
  Eigen::VectorXd kelvin(model.mesh().unknowns());
  for (int i = 0; i < kelvin.size(); ++i)
    kelvin[i] = 300 + 1e4 * model.mesh().at[i].r + 1e3 * model.mesh().at[i].z;
  const auto read = [&](ProbeKind kind) {
    return ProbeSite(model, {kind, 1, .02, .05}).read(kelvin);
  };
  EXPECT_NEAR(read(ProbeKind::surface), 300 + 100 + 35, 1e-9);
  EXPECT_NEAR(read(ProbeKind::centre), 300 + 35, 1e-9);
  EXPECT_NEAR(read(ProbeKind::mean), 300 + 2e4 / 3 * .01 + 35, 2.);
  EXPECT_NEAR(read(ProbeKind::coldest), 300 + 20, 6);
  EXPECT_NEAR(read(ProbeKind::hottest), 300 + 100 + 50, 6);
  EXPECT_THROW(ProbeSite(model, {ProbeKind::mean, 1, .07, .08}), std::invalid_argument);
}

/// A bar without losses.
ThermalModel insulated_bar() {
  return {make_thermal_mesh(rod_mesh(steps(0, .01, 2), steps(0, .04, 10)),
                            {{1, plain_material(40, 8000, 500)}}, {}),
          {}};
}

// Half the way misses an eighth: the error of one step of second order. The state stays.
TEST(ThermalStepper, ForesightIsOfSecondOrder) {
  const ThermalModel model = insulated_bar();
  Eigen::VectorXd kelvin(model.mesh().unknowns());
  for (Eigen::Index i = 0; i < kelvin.size(); ++i)
    kelvin[i] = 500 + 100 * std::cos(std::numbers::pi * model.mesh().at[i].z / .04);
  const HeatSource none = constant_source(Eigen::VectorXd::Zero(kelvin.size()));
  // What the mesh makes of the cosine beside its own slowest mode dies away first.
  ThermalStepper before(model, start_from(model, kelvin), {1e-7});
  before.advance(10, none);
  const ThermalState start = start_from(model, before.warmths().kelvin);
  const auto missed = [&](double until) {
    ThermalStepper exact(model, start, {1e-7}), about(model, start, {1e-4});
    exact.advance(until, none);
    const Prediction predicted = about.predict(until, none).value();
    EXPECT_EQ(about.state().time, 0);
    EXPECT_EQ((about.state().enthalpy - start.enthalpy).norm(), 0);
    return (predicted.at_end.kelvin - exact.warmths().kelvin).cwiseAbs().maxCoeff();
  };
  const double whole = missed(4), half = missed(2);
  EXPECT_GT(whole, 1e-2);
  EXPECT_NEAR(whole / half, 8, 1.2);
}

// A uniformly heated bar warms linearly: 310 K is a quarter of the way to 340 K. Events already
// reached, or not on the way, do not count.
TEST(ThermalStepper, ForesightFindsTheFirstEvent) {
  const ThermalModel model = insulated_bar();
  const double rate = 8000 * 500;  // of enthalpy for 1 K/s
  const HeatSource even = constant_source(rate * model.mesh().volume);
  ThermalStepper stepper(model, start_at(model, {300}));
  for (const double level : {330., 310., 350.})
    stepper.watch({"level", {ProbeKind::hottest, 1}, {level}});
  stepper.watch({"cold", {ProbeKind::coldest, 1}, {290}, false});
  stepper.watch({"middle", {ProbeKind::centre, 1}, {320}});
  EXPECT_NEAR(stepper.predict(40, even).value().to_event, .25, 1e-9);
  EXPECT_EQ(stepper.advance(40, even).events, std::vector<std::size_t>{1});
  EXPECT_NEAR(stepper.predict(40, even).value().to_event, 1. / 3, 1e-6);
  EXPECT_EQ(stepper.advance(40, even).events, std::vector<std::size_t>{4});
  EXPECT_NEAR(stepper.state().time, 20, 1e-3);
  EXPECT_EQ(stepper.predict(25, even).value().to_event, 1);
}

// A caller may stop after any step and finds a valid state with a closed ledger, able to go on.
TEST(ThermalStepper, StoppedAndContinued) {
  const ThermalModel model = busy_model();
  StepperSettings settings;
  settings.stop = [](double time) { return time > 5 && time < 8; };
  ThermalStepper stepper(model, start_at(model, {293.15}), settings);
  const HeatSource source = constant_source(core_load(model, 900));
  const Advance broken = stepper.advance(30, source);
  EXPECT_TRUE(broken.stopped);
  EXPECT_LT(broken.time, 30);
  EXPECT_LT(std::abs(stepper.ledger().error()), 1e-11);
  ThermalStepper on(model, stepper.state());
  EXPECT_EQ(on.advance(30, source).time, 30);
  EXPECT_LT(std::abs(on.ledger().error()), 1e-11);
}

// A state of another model is refused.
TEST(ThermalStepper, RefusesAForeignState) {
  const ThermalModel model = busy_model();
  ThermalState state = start_at(model, {293.15});
  state.enthalpy.conservativeResize(5);
  EXPECT_THROW(ThermalStepper(model, state), std::invalid_argument);
}

// A route cannot count as a loss and as an exchange between bodies at once.
TEST(ThermalStepper, RefusesAmbiguousRoutes) {
  const Mesh mesh = grid_mesh({0, .01, .02, .03}, {0, .01}, [](Point p) {
    return p.r < .01 ? 1 : p.r < .02 ? 0 : 2;
  });
  const ThermalMesh bodies =
      make_thermal_mesh(mesh, {{1, plain_material(1, 1, 1)}, {2, plain_material(1, 1, 1)}}, {});
  Gap gap;
  gap.inner = surface_of(bodies, 1, Facing::outward);
  gap.outer = surface_of(bodies, 2, Facing::inward);
  gap.radiation = "radiation";
  EXPECT_THROW(
      ThermalModel(bodies,
                   {{{"radiation", surface_of(bodies, 2, Facing::outward), Grey{}}}, {gap}, {}}),
      std::invalid_argument);
}

// The ledger's error is the difference over the largest entry; zero if there are no entries.
TEST(HeatLedger, ErrorIsWhatIsMissing) {
  const auto ledger = [](double supplied, double stored, double lost) {
    HeatLedger l;
    l.supplied = supplied;
    l.stored = stored;
    l.lost = lost;
    return l;
  };
  EXPECT_NEAR(ledger(100, 60, 30).error(), 0.1, 1e-12);
  EXPECT_NEAR(ledger(0, -200, 190).error(), 0.05, 1e-12);
  EXPECT_EQ(ledger(0, 0, 0).error(), 0);
}

}  // namespace
}  // namespace cw
