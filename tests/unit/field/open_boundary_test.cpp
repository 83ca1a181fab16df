#include "solver/field/open_boundary.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"
#include "tests/published/reference/loops.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double radius = 0.06, centre = 0.004;  // of the open circle [m]

/// A ring of air in an open circle; functions are plain polynomials.
Mesh open_mesh() {
  Section section;
  section.regions.push_back({"turn.1", Disc{{0.02, 0}, 0.003}});
  section.domain = OpenSpace{centre, radius};
  Mesh mesh = generate_mesh(section);
  mesh.cores.clear();
  return mesh;
}

/// The potential of every node from one of the angle from the axis.
template <class Potential>
Eigen::VectorXcd at_nodes(const Mesh& mesh, Potential potential) {
  Eigen::VectorXcd all(static_cast<Eigen::Index>(mesh.nodes.size()));
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
    all[static_cast<Eigen::Index>(i)] = potential(mesh.nodes[i]);
  return all;
}

double cosine(Point p) {
  return (p.z - centre) / std::hypot(p.r, p.z - centre);
}
double sine(Point p) {
  return p.r / std::hypot(p.r, p.z - centre);
}

// A mesh that ends in a box has no open circle, and no energy outside.
TEST(OpenBoundary, NoneInABox) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, 0}, {0.01, 0.03})});
  section.domain = Box{0.02, 0, 0.03};
  const Mesh mesh = generate_mesh(section);
  const OpenBoundary open(mesh);
  EXPECT_FALSE(open.present());
  EXPECT_EQ(open.exterior_energy(at_nodes(mesh, [](Point p) { return p.r; })), 0.0);
}

// Its nodes are those on the circle, ends included, each once.
TEST(OpenBoundary, NodesLieOnTheCircle) {
  const Mesh mesh = open_mesh();
  const OpenBoundary open(mesh);
  ASSERT_TRUE(open.present());
  std::vector<int> wanted;
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
    if (std::abs(std::hypot(mesh.nodes[i].r, mesh.nodes[i].z - centre) - radius) < 1e-9 * radius)
      wanted.push_back(static_cast<int>(i));
  EXPECT_EQ(open.nodes(), wanted);
}

// A dipole m in the centre, A = mu0 m sin(theta)/(4 pi R^2) on the circle, has the energy
// mu0 m^2/(12 pi R^3) outside (the integral of B^2/(2 mu0), B from J. D. Jackson, Classical
// Electrodynamics, 5.56). Phasors are rms and the energy a mean over time, the phase is nothing.
TEST(OpenBoundary, EnergyOfADipole) {
  const Mesh mesh = open_mesh();
  const OpenBoundary open(mesh);
  const Complex moment{0.6, 0.8};  // [A m^2]
  const Eigen::VectorXcd a =
      at_nodes(mesh, [&](Point p) { return mu0 * moment * sine(p) / (4 * pi * radius * radius); });
  // The formula holds at one moment; the mean over time of rms phasors is the same.
  const double wanted = mu0 * std::norm(moment) / (12 * pi * std::pow(radius, 3));
  EXPECT_NEAR(open.exterior_energy(a), wanted, 1e-5 * wanted);
}

// The stiffness is symmetric and positive semi-definite: no potential on the circle has less energy
// outside than none.
TEST(OpenBoundary, StiffnessIsSymmetricAndNotNegative) {
  const Eigen::MatrixXd k = OpenBoundary(open_mesh()).stiffness();
  EXPECT_LT((k - k.transpose()).norm(), 1e-14 * k.norm());
  const Eigen::VectorXd values = Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(k).eigenvalues();
  EXPECT_GT(values.minCoeff(), -1e-12 * values.maxCoeff());
  EXPECT_GT(values.maxCoeff(), 0.0);
}

// Of a sum of the first three degrees (P_1^1 = sin, P_2^1 = 3 sin cos, P_3^1 = 3/2 sin (5 cos^2 -
// 1); Abramowitz & Stegun 8.6, without the sign of Condon and Shortley) the coefficients are those
// it was made of, and hardly anything of other degrees.
TEST(OpenBoundary, CoefficientsOfASumOfDegrees) {
  const Mesh mesh = open_mesh();
  const OpenBoundary open(mesh);
  const std::array<Complex, 3> given{Complex{2e-3, 1e-3}, Complex{-1e-3, 0}, Complex{0, 5e-4}};
  const Eigen::VectorXcd found = open.coefficients(at_nodes(mesh, [&](Point p) {
    const double x = cosine(p), s = sine(p);
    return given[0] * s + given[1] * (3 * s * x) + given[2] * (1.5 * s * (5 * x * x - 1));
  }));
  ASSERT_GT(found.size(), 10);
  for (Eigen::Index l = 0; l < found.size(); ++l)
    EXPECT_LT(std::abs(found[l] - (l < 3 ? given[l] : 0)), 2e-6) << l + 1;
}

// The potential of a current loop inside, given on the circle, has the loop's flux density outside
// it (elliptic integrals; Smythe, Static and Dynamic Electricity, 7.10).
TEST(OpenBoundary, FluxOutsideOfALoopInside) {
  const Mesh mesh = open_mesh();
  const double loop = 0.02, height = -0.006;
  const Eigen::VectorXcd a = at_nodes(mesh, [&](Point p) {
    const bool on_circle = std::hypot(p.r, p.z - centre) > 0.999 * radius;
    if (!on_circle || p.r < 1e-12) return 0.0;
    return reference::mutual_inductance(loop, p.r, p.z - height) / (2 * pi * p.r);
  });
  const Eigen::VectorXcd coefficients = OpenBoundary(mesh).coefficients(a);
  for (const Point p : {Point{0.07, 0.01}, Point{0.0, 0.09}, Point{0.03, -0.08}, Point{0.2, 0.1}}) {
    const auto [radial, axial] = exterior_flux(mesh, coefficients, p);
    const reference::LoopField wanted = reference::loop_field(loop, p.r, p.z - height);
    const double size = std::hypot(wanted.radial, wanted.axial);
    EXPECT_LT(std::abs(radial - wanted.radial), 1e-4 * size) << p.r << " " << p.z;
    EXPECT_LT(std::abs(axial - wanted.axial), 1e-4 * size) << p.r << " " << p.z;
  }
}

// The right-hand side of 1 T far away pushes a potential v with 3 nu0/R times the integral of
// A0 v over the sphere, A0 = r/2; with v = A0 that is 2 pi R^3 nu0.
TEST(OpenBoundary, UniformFieldPushesTheDipole) {
  const Mesh mesh = open_mesh();
  const OpenBoundary open(mesh);
  const Eigen::VectorXd push = open.uniform_field();
  double sum = 0;
  for (std::size_t i = 0; i < open.nodes().size(); ++i)
    sum += push[static_cast<Eigen::Index>(i)] * 0.5 * mesh.nodes[open.nodes()[i]].r;
  const double wanted = 2 * pi * std::pow(radius, 3) / mu0;
  EXPECT_NEAR(sum, wanted, 1e-5 * wanted);
}

}  // namespace
}  // namespace cw
