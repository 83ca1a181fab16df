#include "solver/field/eddy_system.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <numbers>

#include "tests/unit/field/plain_box.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double bar_conductivity = 4e6;  // of the bar [S/m]

Media bar_in_air(double mu_r = 1.0) {
  return {{}, {bar_conductivity, 1 / (mu_r * mu0)}};
}

/// x^T M x of a potential.
template <class Potential>
double mass_of(const EddySystem& system, Potential potential) {
  const Eigen::VectorXcd x = unknowns_of(system, potential).template cast<Complex>();
  return x.dot(system.apply_mass(x).col(0)).real();
}

/// x^T K x / 2 of a potential.
template <class Potential>
double energy_of(const EddySystem& system, Potential potential) {
  const Eigen::VectorXcd x = unknowns_of(system, potential).template cast<Complex>();
  return 0.5 * x.dot(system.apply_stiffness(x).col(0)).real();
}

double even_field(Point p) {
  return 0.5 * p.r;
}  // B_z = 1 T

/// A bar in a ring of copper, empty space round them.
Section bar_in_ring(double height) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -0.01}, {0.01, 0.01}), 0.002});
  section.regions.push_back({"turn.1", Disc{{0.02, height}, 0.003}, 0.001});
  return section;
}

// x^T K x / 2 is the energy nu B^2/2 of the volume: of an even field of 1 T along a bar of
// permeability 10 in air, and, of A = r z, of B_r = -r and B_z = 2 z.
TEST(EddySystem, StiffnessIsTheEnergyOfTheSolidOfRevolution) {
  const Mesh mesh = PlainBox::mesh();
  const EddySystem system(mesh, bar_in_air(10), PlainBox::natural);
  const double bar = std::pow(PlainBox::bar_radius, 2), all = std::pow(PlainBox::radius, 2);
  const double even = pi * PlainBox::height / (2 * mu0) * (all - bar + bar / 10);
  EXPECT_NEAR(energy_of(system, even_field), even, 1e-10 * even);
  // pi nu int (r^2 + 4 z^2) r dr dz = pi nu (h R^4/4 + 2 h^3 R^2/3)
  const double h = PlainBox::height;
  const auto share = [&](double square) {
    return pi / mu0 * (h * square * square / 4 + 2 * h * h * h * square / 3);
  };
  const double rising = share(all) - 0.9 * share(bar);
  EXPECT_NEAR(energy_of(system, [](Point p) { return p.r * p.z; }), rising, 1e-10 * rising);
}

// x^T M x is the integral of sigma A^2 over the conductor's volume: pi sigma h R^4/8 of an even
// field of 1 T.
TEST(EddySystem, MassIsTheLossOfTheConductor) {
  const Mesh mesh = PlainBox::mesh();
  const EddySystem system(mesh, bar_in_air(), PlainBox::natural);
  const double wanted =
      pi * bar_conductivity * PlainBox::height * std::pow(PlainBox::bar_radius, 4) / 8;
  EXPECT_NEAR(mass_of(system, even_field), wanted, 1e-10 * wanted);
}

// Solutions equal those of the dense matrix K + j w M, assembled column by column with the dense
// block of the open circle, by Eigen's LU with pivoting; and that matrix is symmetric.
TEST(EddySystem, SolvesWhatADenseSolverSolves) {
  const Mesh mesh = generate_mesh(bar_in_ring(0), Sizing{}.scaled(2));
  EddySystem system(mesh, {{}, {bar_conductivity, 0.01 / mu0}, {58e6}});
  const auto unit = Eigen::MatrixXcd::Identity(system.unknowns(), system.unknowns());
  const Eigen::MatrixXcd k = system.apply_stiffness(unit), m = system.apply_mass(unit);
  EXPECT_EQ((k - k.transpose()).norm(), 0.0);
  const Eigen::MatrixXcd rhs = Eigen::MatrixXcd::Random(system.unknowns(), 2);
  for (const Frequency f : {Frequency{50}, Frequency{20e3}}) {
    system.factorise(f);
    EXPECT_EQ(system.frequency(), f);
    const Eigen::MatrixXcd dense = (k + Complex{0, f.omega()} * m).partialPivLu().solve(rhs);
    EXPECT_LT((system.solve(rhs) - dense).norm(), 1e-9 * dense.norm()) << f.hertz;
  }
}

// On the open circle the stiffness represents the outer space: a uniform field inside and the
// dipole that continues it outside have the energy of both, pi R^3 B^2/(6 mu0) of the dipole and 2
// pi R^3 B^2/(3 mu0) inside (from mu0 m^2/(12 pi R^3), m = 2 pi R^3 B/mu0).
TEST(EddySystem, OpenSpaceCarriesTheEnergyOutside) {
  Section section;
  section.regions.push_back({"turn.1", Disc{{0.02, 0}, 0.003}});
  section.domain = OpenSpace{0, 0.05};
  const Mesh mesh = generate_mesh(section);
  const EddySystem system(mesh, {{}, {}});
  const double inside = 2 * pi * std::pow(0.05, 3) / (3 * mu0);
  const double outside = pi * std::pow(0.05, 3) / (3 * mu0);
  EXPECT_NEAR(energy_of(system, even_field), inside + outside, 1e-5 * inside);
}

// The potential is zero on the axis always, and on the other sides of a box as specified; every
// other node is an unknown; the maps to nodes and back are inverse.
TEST(EddySystem, ZeroWhereTheBorderSaysSo) {
  const Mesh mesh = PlainBox::mesh();
  const auto at = [](double value, double side) { return std::abs(value - side) < 1e-12; };
  for (int sides = 0; sides < 8; ++sides) {
    const BorderConditions border{(sides & 1) != 0, (sides & 2) != 0, (sides & 4) != 0};
    const EddySystem system(mesh, bar_in_air(), border);
    const Eigen::VectorXcd x = Eigen::VectorXcd::Random(system.unknowns());
    const Eigen::VectorXcd nodes = system.to_nodes(x);
    EXPECT_EQ(system.to_unknowns(nodes), x);
    for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
      const Point p = mesh.nodes[i];
      const bool zero = at(p.r, 0) || (border.zero_on_outer && at(p.r, PlainBox::radius)) ||
                        (border.zero_on_top && at(p.z, PlainBox::height)) ||
                        (border.zero_on_bottom && at(p.z, 0));
      EXPECT_EQ(nodes[static_cast<Eigen::Index>(i)] == 0.0, zero) << p.r << " " << p.z;
    }
  }
}

// With other media the system is the one made of them at once, whether reluctivity changes too or
// conductivity alone.
TEST(EddySystem, OtherMediaMakeTheSystemOfThem) {
  const Mesh mesh = PlainBox::mesh();
  EddySystem system(mesh, bar_in_air(), PlainBox::natural);
  for (const Media& media : {Media{{}, {1e5}}, Media{{}, {2e5, 0.1 / mu0}}, bar_in_air()}) {
    system.set_media(media);
    const EddySystem anew(mesh, media, PlainBox::natural);
    const Eigen::VectorXcd x = Eigen::VectorXcd::Random(system.unknowns());
    EXPECT_EQ(system.apply_stiffness(x), anew.apply_stiffness(x));
    EXPECT_EQ(system.apply_mass(x), anew.apply_mass(x));
    EXPECT_EQ(system.media()[1].conductivity, media[1].conductivity);
  }
}

// Media that vary inside a body count where they are: with sigma = s r and nu = t r in the bar, an
// even field of 1 T has x^T M x = 2 pi s h R^5/20 and pi t h R^3/3 of energy there.
TEST(EddySystem, MediaThatVaryInsideABody) {
  const Mesh mesh = PlainBox::mesh();
  EddySystem system(mesh, bar_in_air(), PlainBox::natural);
  LocalMedia local;
  const double s = 3e8, t = 5e7;
  for (std::size_t k = 0; k < mesh.triangles.size(); ++k) {
    const bool in_bar = mesh.region[k] == PlainBox::bar;
    local.of_triangle.push_back(in_bar ? static_cast<int>(local.at.size()) : -1);
    if (!in_bar) continue;
    auto& here = local.at.emplace_back();
    const TriangleSamples samples = triangle_samples(triangle_points(mesh, k));
    for (std::size_t q = 0; q < here.size(); ++q)
      here[q] = {s * samples[q].radius, t * samples[q].radius};
  }
  system.set_local(local);
  const double h = PlainBox::height, bar = PlainBox::bar_radius;
  const double mass = 2 * pi * s * h * std::pow(bar, 5) / 20;
  EXPECT_NEAR(mass_of(system, even_field), mass, 1e-10 * mass);
  const double air = pi * h * (std::pow(PlainBox::radius, 2) - bar * bar) / (2 * mu0);
  const double energy = air + pi * t * h * std::pow(bar, 3) / 3;
  EXPECT_NEAR(energy_of(system, even_field), energy, 1e-10 * energy);
  system.set_media(bar_in_air());  // uniform again
  const EddySystem anew(mesh, bar_in_air(), PlainBox::natural);
  EXPECT_EQ(mass_of(system, even_field), mass_of(anew, even_field));
}

// A system with the shape of another one, whose mesh has the same triangles and other node
// positions, equals the system with its own shape.
TEST(EddySystem, SharesItsShapeWithMeshesOfTheSameTriangles) {
  const Mesh mesh = generate_mesh(bar_in_ring(0));
  const EddySystem first(mesh, {{}, {bar_conductivity}, {58e6}});
  Mesh larger = mesh;
  for (Point& p : larger.nodes) p = 1.25 * p;
  larger.open_radius *= 1.25;
  larger.centre = 1.25 * larger.centre;
  larger.cores.clear();
  EddySystem shared(larger, first.media(), first.shape()), own(larger, first.media());
  EXPECT_EQ(shared.shape(), first.shape());
  const Eigen::MatrixXcd rhs = Eigen::MatrixXcd::Random(own.unknowns(), 1);
  shared.factorise({1e4});
  own.factorise({1e4});
  EXPECT_EQ(shared.solve(rhs), own.solve(rhs));
}

}  // namespace
}  // namespace cw
