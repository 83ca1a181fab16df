// Heat with manufactured solutions: orders of convergence in space and in time.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/published/check.hpp"
#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw::published {
namespace {

using std::numbers::pi;

constexpr double kRodRadius = .01, kLength = .02, kHeatConductivity = 30, kCapacity = 7850. * 600;
constexpr double kBesselZero = 3.8317059702075123;  // first zero of J1 beyond 0

/// A shape in space with no flux through any surface [K/s]; T = 300 K + t shape.
double shape(Point p) {
  const double x = p.r * p.r / (kRodRadius * kRodRadius);
  return 50 * (x - .5 * x * x) * std::cos(pi * p.z / kLength) +
         20 * std::cos(2 * pi * p.z / kLength);
}

double laplacian(Point p) {
  const double x = p.r * p.r / (kRodRadius * kRodRadius), wave = pi / kLength;
  return 50 * std::cos(wave * p.z) *
             ((4 - 8 * x) / (kRodRadius * kRodRadius) - wave * wave * (x - .5 * x * x)) -
         80 * wave * wave * std::cos(2 * wave * p.z);
}

/// Root mean square error over the volume at 2 s relative to the largest rise.
double error_with(int across) {
  const Mesh mesh = rod_mesh(steps(0, kRodRadius, across, std::pow(.5, 1. / across)),
                             steps(0, kLength, across + across / 2));
  const ThermalModel model(
      make_thermal_mesh(mesh, {{1, plain_material(kHeatConductivity, 7850, 600)}}, {}), {});
  // rho c dT/dt - div(k grad T) is linear in time, as the source may be. Any Runge-Kutta step of
  // order two is then exact in time, which leaves only the error of the grid.
  const auto load_at = [&](double t) {
    return model.load(density_of(mesh, [t](Point p) {
      return kCapacity * shape(p) - kHeatConductivity * t * laplacian(p);
    }));
  };
  ThermalStepper stepper(model, start_at(model, {300}), {1e-5});
  stepper.advance(2, {0, 2, load_at(0), load_at(2)});
  const Eigen::VectorXd kelvin = stepper.warmths().kelvin;
  double sum = 0;
  for (int i = 0; i < kelvin.size(); ++i)
    sum += model.mesh().volume[i] * std::pow(kelvin[i] - 300 - 2 * shape(model.mesh().at[i]), 2);
  return std::sqrt(sum / model.mesh().volume.sum()) / 90;
}

// Property: second-order elements, the error falls with the third power of their size (L2 norm; G.
// Strang & G. Fix, An Analysis of the Finite Element Method, Prentice-Hall 1973 (from memory, page
// not looked up)), the axis included.
TEST(ManufacturedHeat, ThirdOrderInSpace) {
  const double coarse = error_with(4), middle = error_with(8), fine = error_with(16);
  expect_at_least(std::log2(coarse / middle), 2.8);
  expect_at_least(std::log2(middle / fine), 2.8);
  expect_at_most(fine, 2e-5);
}

/// A mode of the insulated rod, J0(b r) cos(pi z/L) with J1(b R) = 0.
double mode(Point p) {
  return std::cyl_bessel_j(0, kBesselZero * p.r / kRodRadius) * std::cos(pi * p.z / kLength);
}

/// Its decay [1/s].
double decay() {
  return kHeatConductivity / kCapacity *
         (std::pow(kBesselZero / kRodRadius, 2) + std::pow(pi / kLength, 2));
}

/// The mode's amplitude at a time [K]; what drives it is linear in time:
/// rho c dT/dt - div(k grad T) = rho c w mode (A/2 + A/2 w t) for A (exp(-wt) + wt/2).
double amplitude(double time) {
  return 80 * (std::exp(-decay() * time) + .5 * decay() * time);
}

/// Temperatures at 2 s, with steps of this length [s]; 0: as short as a tight tolerance requires.
Eigen::VectorXd by_steps_of(const ThermalModel& model, const Mesh& mesh, double step) {
  const auto load_at = [&](double t) {
    const double rate = 80 * kCapacity * decay() * (.5 + .5 * decay() * t);
    return model.load(density_of(mesh, [rate](Point p) { return rate * mode(p); }));
  };
  Eigen::VectorXd start(model.mesh().unknowns());
  for (int i = 0; i < start.size(); ++i) start[i] = 300 + amplitude(0) * mode(model.mesh().at[i]);
  ThermalState state = start_from(model, start);
  state.next_step = step;
  const StepperSettings settings{step > 0 ? 1e9 : 1e-8, step};
  ThermalStepper stepper(model, state, settings);
  stepper.advance(2, {0, 2, load_at(0), load_at(2)});
  if (step > 0) {
    EXPECT_NEAR(static_cast<double>(stepper.cost().steps), 2 / step, 1.01);
  }
  return stepper.warmths().kelvin;
}

// Property: a decaying mode with a source made up so that it also grows, halving the steps divides
// the error in time by eight (a diagonally implicit Runge-Kutta method of order 3; E. Hairer & G.
// Wanner, Solving Ordinary Differential Equations II, 2nd ed., Springer 1996, page not looked up),
// the grid's own error left out.
TEST(ManufacturedHeat, ThirdOrderInTime) {
  const Mesh mesh = rod_mesh(steps(0, kRodRadius, 16), steps(0, kLength, 20));
  const ThermalModel model(
      make_thermal_mesh(mesh, {{1, plain_material(kHeatConductivity, 7850, 600)}}, {}), {});
  const Eigen::VectorXd settled = by_steps_of(model, mesh, 0);
  double grid = 0;
  for (int i = 0; i < settled.size(); ++i)
    grid = std::max(grid, std::abs(settled[i] - 300 - amplitude(2) * mode(model.mesh().at[i])));
  expect_at_most(grid / amplitude(2), 1e-3);
  double before = 0;
  for (const double step : {.2, .1, .05, .025}) {
    const double off =
        (by_steps_of(model, mesh, step) - settled).cwiseAbs().maxCoeff() / amplitude(2);
    if (before > 0) expect_at_least(std::log2(before / off), 2.8);
    before = off;
  }
  expect_at_most(before, 2e-7);
}

/// Temperatures after 8 s of a rod cooled by a film and by radiation, with properties that change
/// with temperature.
Eigen::VectorXd cooled(double tolerance) {
  Material steel = plain_material(1, 7850, 1);
  steel.thermal_conductivity = linear_law(54, -.02);
  steel.heat_capacity = linear_law(450, .3);
  ThermalMesh bodies =
      make_thermal_mesh(rod_mesh(steps(0, .01, 3), steps(0, .002, 1)), {{1, steel}}, {});
  const auto wall = surface_of(bodies, 1, Facing::outward);
  const ThermalModel model(
      std::move(bodies),
      {{{"film", wall, Film{2000, {300}}}, {"glow", wall, Grey{.8, {300}}}}, {}, {}});
  ThermalStepper stepper(model, start_at(model, {1300}), {tolerance});
  stepper.advance(8, constant_source(Eigen::VectorXd::Zero(model.mesh().unknowns())));
  return stepper.warmths().kelvin;
}

// Property: the error of the whole run follows the tolerance of a step, and never exceeds it.
TEST(ManufacturedHeat, ErrorInTimeFollowsTheTolerance) {
  const Eigen::VectorXd exact = cooled(1e-6);
  double last = 0;
  for (const double tolerance : {1., .1, .01, .001}) {
    const double off = (cooled(tolerance) - exact).cwiseAbs().maxCoeff();
    expect_at_most(off, tolerance);
    if (last > 0) expect_at_most(off, .5 * last);
    last = off;
  }
}

}  // namespace
}  // namespace cw::published
