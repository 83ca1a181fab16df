// Orders of convergence in space and time against solutions made up beforehand.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "solver/thermal/steady.hpp"
#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

using std::numbers::pi;

constexpr double kRadius = .01, kLength = .02, kConductivity = 30, kCapacity = 7850. * 600;

/// A shape in space with no flux through any surface [K/s]; T = 300 K + t shape.
double shape(Point p) {
  const double x = p.r * p.r / (kRadius * kRadius);
  return 50 * (x - .5 * x * x) * std::cos(pi * p.z / kLength) +
         20 * std::cos(2 * pi * p.z / kLength);
}

double laplacian(Point p) {
  const double x = p.r * p.r / (kRadius * kRadius), wave = pi / kLength;
  return 50 * std::cos(wave * p.z) *
             ((4 - 8 * x) / (kRadius * kRadius) - wave * wave * (x - .5 * x * x)) -
         80 * wave * wave * std::cos(2 * wave * p.z);
}

/// Root mean square error over the volume at 2 s relative to the largest rise.
double error_with(int across) {
  const Mesh mesh = rod_mesh(steps(0, kRadius, across, std::pow(.5, 1. / across)),
                             steps(0, kLength, across + across / 2));
  const ThermalModel model(
      make_thermal_mesh(mesh, {{1, plain_material(kConductivity, 7850, 600)}}, {}), {});
  // rho c dT/dt - div(k grad T) is linear in time, as the source may be; any Runge-Kutta step of
  // order two is then exact in time, which leaves the error of the grid.
  const auto load_at = [&](double t) {
    return model.load(density_of(
        mesh, [t](Point p) { return kCapacity * shape(p) - kConductivity * t * laplacian(p); }));
  };
  ThermalStepper stepper(model, start_at(model, {300}), {1e-5});
  stepper.advance(2, {0, 2, load_at(0), load_at(2)});
  const Eigen::VectorXd kelvin = stepper.warmths().kelvin;
  double sum = 0;
  for (int i = 0; i < kelvin.size(); ++i)
    sum += model.mesh().volume[i] * std::pow(kelvin[i] - 300 - 2 * shape(model.mesh().at[i]), 2);
  return std::sqrt(sum / model.mesh().volume.sum()) / 90;
}

// Second-order elements: the error falls with the third power of their size, the axis included.
TEST(Manufactured, ThirdOrderInSpace) {
  const double coarse = error_with(4), middle = error_with(8), fine = error_with(16);
  EXPECT_GT(std::log2(coarse / middle), 2.8);
  EXPECT_GT(std::log2(middle / fine), 2.8);
  EXPECT_LT(fine, 2e-5);
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

// The error of the whole run follows the tolerance of a step, and never exceeds it.
TEST(Manufactured, ErrorInTimeFollowsTheTolerance) {
  const Eigen::VectorXd exact = cooled(1e-6);
  double last = 1e9;
  for (const double tolerance : {1., .1, .01, .001}) {
    const double off = (cooled(tolerance) - exact).cwiseAbs().maxCoeff();
    EXPECT_LT(off, tolerance);
    EXPECT_LT(off, .5 * last);
    last = off;
  }
}

}  // namespace
}  // namespace cw
