// The matrix of conduction and the systems solved with it.
#include "solver/thermal/heat_matrix.hpp"

#include <gtest/gtest.h>

#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

/// Core and sleeve with a contact between them, an air gap with radiation to a wall outside.
ThermalModel nested_model() {
  const Mesh mesh = grid_mesh({0, .003, .006, .008, .011, .014}, steps(-.01, .01, 4), [](Point p) {
    return p.r < .006 ? 1 : p.r < .008 ? 2 : p.r < .011 ? 0 : 3;
  });
  ThermalMesh bodies = make_thermal_mesh(mesh,
                                         {{1, plain_material(40, 7800, 500)},
                                          {2, plain_material(60, 8700, 390)},
                                          {3, plain_material(2, 2000, 900)}},
                                         {{1, 2, 3000}});
  ThermalBoundary out;
  out.exchanges = {{"convection", surface_of(bodies, 3, Facing::outward),
                    NaturalConvection{Posture::vertical_cylinder, .02, .028}}};
  Gap gap;
  gap.inner = surface_of(bodies, 2, Facing::outward);
  gap.outer = surface_of(bodies, 3, Facing::inward);
  out.gaps = {gap};
  return {std::move(bodies), out};
}

/// Something different at every unknown, the same each time.
Eigen::VectorXd uneven(Eigen::Index n, double low, double high) {
  Eigen::VectorXd v(n);
  for (Eigen::Index i = 0; i < n; ++i)
    v[i] = low + (high - low) * (.5 + .5 * std::sin(1.7 * static_cast<double>(i)));
  return v;
}

// Whatever the order of elimination, the solution satisfies the step's own equations, row by row,
// even where nothing warms (slope 0).
TEST(HeatMatrix, StepObeysItsEquations) {
  const ThermalModel model = nested_model();
  const Eigen::Index n = model.mesh().unknowns();
  HeatTangent tangent = model.make_tangent();
  model.tangent(uneven(n, 400, 900), tangent);
  Eigen::VectorXd slope = uneven(n, 1e-7, 4e-7);
  for (Eigen::Index i = 0; i < n; i += 5) slope[i] = 0;
  const double gamma = 2.5;
  const Eigen::VectorXd &volume = model.mesh().volume, b = uneven(n, -1e8, 1e8);
  tangent.matrix.factorise_step(volume, slope, gamma);
  const StepChange x = tangent.matrix.solve_step(b);
  const Eigen::VectorXd given = tangent.matrix.times(slope.cwiseProduct(x.enthalpy));
  const double scale = volume.cwiseProduct(b).cwiseAbs().maxCoeff();
  for (Eigen::Index i = 0; i < n; ++i) {
    EXPECT_NEAR(volume[i] * x.enthalpy[i] + gamma * given[i], volume[i] * b[i], 1e-11 * scale) << i;
    EXPECT_NEAR(x.kelvin[i], slope[i] * x.enthalpy[i], 1e-9) << i;
    EXPECT_NEAR(x.given[i], given[i], 1e-10 * scale) << i;
  }
}

// The matrix is symmetric, and is the slope of the balance: conduction adds up to zero, so the sum
// of all rows equals the change of the losses at the outer surfaces for a uniform change of one
// kelvin.
TEST(HeatMatrix, SymmetricAndNothingLeavesInside) {
  const ThermalModel model = nested_model();
  const Eigen::Index n = model.mesh().unknowns();
  HeatTangent tangent = model.make_tangent();
  const Eigen::VectorXd kelvin = uneven(n, 400, 900);
  model.tangent(kelvin, tangent);
  const Eigen::VectorXd x = uneven(n, -3, 5), y = uneven(n, 1, 2).cwiseAbs2();
  EXPECT_NEAR(x.dot(tangent.matrix.times(y)), y.dot(tangent.matrix.times(x)),
              1e-12 * y.norm() * tangent.matrix.times(x).norm());
  const Eigen::VectorXd one = tangent.matrix.times(Eigen::VectorXd::Ones(n));
  const Eigen::VectorXd nothing = Eigen::VectorXd::Zero(n),
                        step = Eigen::VectorXd::Constant(n, .01);
  const double lost = model.balance(kelvin + step, nothing).into.sum() -
                      model.balance(kelvin - step, nothing).into.sum();
  EXPECT_NEAR(one.sum(), -lost / .02, 1e-4 * one.sum());
  EXPECT_GT(one.sum(), .01);
}

// Held unknowns stay at nothing, the others obey their rows.
TEST(HeatMatrix, SteadyObeysItsEquations) {
  const ThermalModel model = nested_model();
  const Eigen::Index n = model.mesh().unknowns();
  HeatTangent tangent = model.make_tangent();
  model.tangent(uneven(n, 400, 900), tangent);
  std::vector<char> held(n, 0);
  for (const int e : surface_of(model.mesh(), 1, Facing::down))
    for (const int i : model.mesh().surface.at(e).unknown) held[i] = 1;
  const Eigen::VectorXd power = uneven(n, 0, 2);
  const Eigen::VectorXd kelvin = tangent.matrix.solve_steady(power, held);
  const Eigen::VectorXd given = tangent.matrix.times(kelvin);
  for (Eigen::Index i = 0; i < n; ++i) {
    if (held[i])
      EXPECT_EQ(kelvin[i], 0) << i;
    else
      EXPECT_NEAR(given[i], power[i], 1e-9) << i;
  }
}

}  // namespace
}  // namespace cw
