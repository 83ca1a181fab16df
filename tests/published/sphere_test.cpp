// Spheres in a uniform field: the open space and bodies on the axis. Reference powers are for PEAK
// fields; the solver's phasors are rms, so its power at 1 T rms is twice that at 1 T peak.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

// Hollow sphere of 50 and 55 mm, 5e8 S/m, 50 Hz, 1 T peak: field inside, dipole moment, power, and
// the field just outside equator and pole. Source: the problem of C. R. I. Emson, Results for a
// hollow sphere in uniform field (benchmark problem 6), COMPEL 7 (1988) 89 (from memory); evaluated
// from modified spherical Bessel functions. 2e-3.
TEST(Sphere, HollowConductingSphere) {
  const double hertz = 50;
  Model model({{"workpiece", Disc{{0, 0}, .055, .050}, {5e8, 1 / mu0}}},
              {hertz, Sizing{}.scaled(.35), OpenSpace{0, .08}});
  const FieldSolution field = model.respond(uniform_field_source(model.system()));  // 1 T rms
  const Mesh& mesh = model.mesh();
  expect_relative(model.loss(field, "workpiece"), 2 * 10061.50, 2e-3);
  const Complex inside{-.03491817589, -.04149911652};
  for (const Point p : {Point{0, 0}, {.02, .01}, {.04, -.02}}) {
    expect_within(probe(mesh, field, p).flux_z, inside, 2e-3 * std::abs(inside));
    EXPECT_LT(std::abs(probe(mesh, field, p).flux_r), 2e-3 * std::abs(inside));
  }
  // On the open circle A = (B0/2 r + D r/(2 rho^3)), degree 1: a_1 = R/2 (1 + D/R^3).
  const Complex first = model.system().open().coefficients(field.potential)[0];
  const Complex dipole =
      (2.0 * first / mesh.open_radius - 1.0) * std::pow(mesh.open_radius / .055, 3);
  const Complex exact{-.92017338, -.07699895};
  expect_within(dipole, exact, 2e-3 * std::abs(exact));
  const Complex equator{1.46008669, .03849948};
  const Complex pole{.07982662, -.07699895};
  expect_within(probe(mesh, field, {.05502, 0}).flux_z, equator, 1e-2 * std::abs(equator));
  expect_within(probe(mesh, field, {0, .05502}).flux_z, pole, 1e-2);
}

// Permeable sphere in a static field: uniform inside, 3 mu/(mu + 2) times the applied flux density.
// Source: J. D. Jackson, Classical Electrodynamics, 3rd ed., Wiley 1999, 5.11 (from memory). 1e-3.
TEST(Sphere, PermeableSphere) {
  for (const double mu_r : {2., 10., 100., 1000.}) {
    Model model({{"workpiece", Disc{{0, 0}, .03, 0}, {0, 1 / (mu0 * mu_r)}, .004}}, {50});
    const FieldSolution field = model.respond(uniform_field_source(model.system()));
    for (const Point p : {Point{0, 0}, {.01, .02}, {.025, 0}}) {
      expect_relative(probe(model.mesh(), field, p).flux_z.real(), 3 * mu_r / (mu_r + 2), 1e-3);
      expect_within(probe(model.mesh(), field, p).flux_r.real(), 0.0, 3e-3);
    }
  }
}

// Property: empty space with a uniform field far away, the field is that everywhere, to rounding,
// since the second-order elements and the first degree outside hold it exactly.
TEST(Sphere, EmptySpaceKeepsTheUniformField) {
  Model model({{"nothing", Polygon{{{.01, -.01}, {.02, -.01}, {.02, .015}, {.012, .015}}, {}}}},
              {50});
  const FieldSolution field = model.respond(uniform_field_source(model.system()));
  for (const Point p : {Point{0, 0}, {.015, .01}, {.001, -.02}, {.02, .02}}) {
    const FieldPoint f = probe(model.mesh(), field, p);
    expect_within(f.flux_z.real(), 1.0, 1e-5);
    EXPECT_NEAR(std::abs(f.flux_r), 0.0, 1e-5);
  }
}

}  // namespace
}  // namespace cw::published
