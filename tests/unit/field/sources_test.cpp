#include "solver/field/sources.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/published/reference/loops.hpp"
#include "tests/unit/field/plain_box.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double ring_conductivity = 4e6;  // [S/m]

/// A ring of rectangular section and one of round section, as regions 1 and 2.
Mesh two_rings() {
  Section section;
  section.regions.push_back({"turn.1", rectangle({0.012, -0.004}, {0.018, 0.004})});
  section.regions.push_back({"turn.2", Disc{{0.015, 0.012}, 0.003}});
  Mesh mesh = generate_mesh(section);
  mesh.cores.clear();
  return mesh;
}

const Media two_copper_rings{{}, {ring_conductivity}, {ring_conductivity}};

// The area of a rectangle is exact, that of a circle the one its edges of second order enclose.
TEST(Sources, SectionArea) {
  const Mesh mesh = two_rings();
  EXPECT_NEAR(section_area(mesh, 1), 48e-6, 1e-12 * 48e-6);
  EXPECT_NEAR(section_area(mesh, 2), (1 - out_of_circle) * pi * 9e-6, 1e-7 * pi * 9e-6);
}

// A closed ring conducts sigma h ln(b/a)/(2 pi) with a rectangular section (the integral itself)
// and sigma (R - sqrt(R^2 - a^2)) with a round one.
TEST(Sources, LoopConductance) {
  const Mesh mesh = two_rings();
  const EddySystem system(mesh, two_copper_rings);
  const double rectangular = ring_conductivity * 0.008 * std::log(1.5) / (2 * pi);
  EXPECT_NEAR(loop_conductance(system, 1), rectangular, 1e-8 * rectangular);
  const double round = 1 / reference::torus_resistance_solid({0.015, 0.003}, 1 / ring_conductivity);
  EXPECT_NEAR(loop_conductance(system, 2), round, 1.5 * out_of_circle * round);
}

// Against a potential A the source of a voltage gives sigma int A dS: of A = r z^2 over the ring of
// rectangular section sigma (b^2 - a^2) 2 (h/2)^3/6; nothing outside the ring counts.
TEST(Sources, VoltageSource) {
  const Mesh mesh = two_rings();
  const EddySystem system(mesh, two_copper_rings);
  const Eigen::VectorXd source = voltage_source(system, 1);
  const auto over = [&](auto potential) { return source.dot(unknowns_of(system, potential)); };
  const double moment = ring_conductivity * 48e-6 * 0.015;
  EXPECT_NEAR(over([](Point p) { return p.r; }), moment, 1e-10 * moment);
  const double square = ring_conductivity * 0.006 * 2 * std::pow(0.004, 3) / 3;
  EXPECT_NEAR(over([](Point p) { return p.z * p.z; }), square, 1e-10 * square);
}

// For A = B r/2 the source of 1 A gives the flux linked with a turn of uniform current, pi B <r^2>:
// (b^3 - a^3)/(3 (b - a)) for a rectangular section, R^2 + a^2/4 for a round one.
TEST(Sources, CurrentSource) {
  const Mesh mesh = two_rings();
  const EddySystem system(mesh, two_copper_rings);
  const Eigen::VectorXd even = unknowns_of(system, [](Point p) { return 0.5 * p.r; });
  const double rectangular = pi * (std::pow(0.018, 3) - std::pow(0.012, 3)) / (3 * 0.006);
  EXPECT_NEAR(current_source(system, 1).dot(even), rectangular, 1e-10 * rectangular);
  const double round = pi * (0.015 * 0.015 + 0.003 * 0.003 / 4);
  EXPECT_NEAR(current_source(system, 2).dot(even), round, 1.5 * out_of_circle * round);
}

// A filament links 2 pi r A at its own place, and one outside the mesh is refused.
TEST(Sources, FilamentSource) {
  const Mesh mesh = PlainBox::mesh();
  const EddySystem system(mesh, {{}, {}}, PlainBox::natural);
  const auto potential = [](Point p) { return p.r * (1 + 30 * p.r - 20 * p.z); };
  const Eigen::VectorXd x = unknowns_of(system, potential);
  for (const Point p : {Point{0.0043, 0.0171}, Point{0.0157, 0.0029}, Point{0.019, 0.0299}}) {
    const double linked = 2 * pi * p.r * potential(p);
    EXPECT_NEAR(filament_source(system, p).dot(x), linked, 1e-10 * linked);
  }
  EXPECT_THROW((void)filament_source(system, {0.021, 0.01}), SolveError);
}

// With H_z = 1 A/m on the outside of an infinite bar of permeability 10 in air, the field is the
// same everywhere: A = mu r/2 in the bar (of radius a) and mu0 (r + 9 a^2/r)/2 outside, which the
// functions beside a round bar represent exactly.
TEST(Sources, SurfaceFieldSource) {
  const Mesh mesh = generate_mesh(PlainBox::section());
  EddySystem system(mesh, {{}, {0.0, 0.1 / mu0}}, PlainBox::natural);
  system.factorise({50});
  const Eigen::VectorXcd a = system.solve(surface_field_source(system).cast<Complex>());
  const Eigen::VectorXd wanted = unknowns_of(system, [](Point p) {
    const double bar = PlainBox::bar_radius;
    return 0.5 * mu0 * (p.r <= bar ? 10 * p.r : p.r + 9 * bar * bar / p.r);
  });
  EXPECT_LT((a - wanted).norm(), 1e-10 * wanted.norm());
}

// 1 T far away is 1 T everywhere in empty space: A = r/2, within the error of parabolas for a sine
// over edges of 9 degrees, (pi/40)^3/(9 sqrt 3).
TEST(Sources, UniformFieldSource) {
  Mesh mesh = two_rings();
  EddySystem system(mesh, {{}, {}, {}});
  system.factorise({50});
  const Eigen::VectorXcd a = system.solve(uniform_field_source(system).cast<Complex>());
  const Eigen::VectorXd wanted = unknowns_of(system, [](Point p) { return 0.5 * p.r; });
  EXPECT_LT((a - wanted).norm(), std::pow(pi / 40, 3) / (9 * std::sqrt(3)) * wanted.norm());
}

}  // namespace
}  // namespace cw
