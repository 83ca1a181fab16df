// The field equation with a manufactured solution, with both terms active and a source everywhere:
// without symmetry, closed form or port.
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "solver/fem/triangle.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

constexpr double kBoxRadius = .03, kBoxHeight = .04, kBoxPi = 3.14159265358979323846;
constexpr double kPermeability = 5, kBoxConductivity = 4e6, kHertz = 300;  // skin depth 6.5 mm

/// A = (r - r^3/R^2) (cos(kz) + j sin(2kz)) [Wb/m], zero on the border; k = pi/H.
Complex potential(Point p) {
  const double k = kBoxPi / kBoxHeight;
  return (p.r - std::pow(p.r, 3) / (kBoxRadius * kBoxRadius)) *
         Complex{std::cos(k * p.z), std::sin(2 * k * p.z)};
}

/// The current density that drives it [A/m^2]:
/// J = -nu (d2A/dz2 + d/dr(1/r d(rA)/dr)) + j w sigma A.
Complex source(Point p) {
  const double k = kBoxPi / kBoxHeight, nu = 1 / (kPermeability * mu0);
  const double across = p.r - std::pow(p.r, 3) / (kBoxRadius * kBoxRadius);
  const Complex along{std::cos(k * p.z), std::sin(2 * k * p.z)};
  const Complex curvature{-k * k * std::cos(k * p.z), -4 * k * k * std::sin(2 * k * p.z)};
  const double radial = -8 * p.r / (kBoxRadius * kBoxRadius);
  return -nu * (across * curvature + radial * along) +
         Complex{0, 2 * kBoxPi * kHertz * kBoxConductivity} * potential(p);
}

/// Sum over the quadrature points of the mesh of 2 pi r area f(point, sample, triangle).
template <class F>
void over_points(const Mesh& mesh, const F& f) {
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const TrianglePoints corners = triangle_points(mesh, t);
    for (const Sample<6>& s : triangle_samples(corners)) {
      Point p{0, 0};
      for (int i = 0; i < 6; ++i) {
        p.r += s.value[i] * corners[i].r;
        p.z += s.value[i] * corners[i].z;
      }
      f(p, s, t, 2 * kBoxPi * s.radius * s.area);
    }
  }
}

struct FieldErrors {
  double potential, flux_density;  ///< L2 norms over those of the exact field
};

FieldErrors errors_with(double edge) {
  Section section;
  section.regions.push_back({"body", rectangle({0, -kBoxHeight / 2}, {kBoxRadius, kBoxHeight / 2}),
                             std::numeric_limits<double>::infinity(), edge});
  section.domain = Box{kBoxRadius, -kBoxHeight / 2, kBoxHeight / 2};
  const Mesh mesh = generate_mesh(section, {});
  Medium body;
  body.reluctivity = 1 / (kPermeability * mu0);
  body.conductivity = kBoxConductivity;
  EddySystem system(mesh, {{}, body});
  Eigen::VectorXcd load = Eigen::VectorXcd::Zero(static_cast<Eigen::Index>(mesh.nodes.size()));
  over_points(mesh, [&](Point p, const Sample<6>& s, std::size_t t, double weight) {
    for (int i = 0; i < 6; ++i) load[mesh.triangles[t][i]] += weight * source(p) * s.value[i];
  });
  system.factorise({kHertz});
  const Eigen::VectorXcd found = system.to_nodes(system.solve(system.to_unknowns(load)).col(0));
  double miss = 0, whole = 0, miss_b = 0, whole_b = 0;
  over_points(mesh, [&](Point p, const Sample<6>& s, std::size_t t, double weight) {
    Eigen::Vector<Complex, 6> a, exact;
    const TrianglePoints corners = triangle_points(mesh, t);
    for (int i = 0; i < 6; ++i) {
      a[i] = found[mesh.triangles[t][i]];
      exact[i] = potential(corners[i]);
    }
    miss += weight * std::norm((s.value.transpose() * a)(0) - potential(p));
    whole += weight * std::norm(potential(p));
    // Exact flux density by central differences of the potential: B_r = -dA/dz, B_z = dA/dr + A/r.
    const double h = 1e-7;
    const Complex br = -(potential({p.r, p.z + h}) - potential({p.r, p.z - h})) / (2 * h);
    const Complex bz =
        (potential({p.r + h, p.z}) - potential({p.r - h, p.z})) / (2 * h) + potential(p) / p.r;
    const Eigen::Vector2cd b = flux_operator(s).cast<Complex>() * a;
    miss_b += weight * (std::norm(b[0] - br) + std::norm(b[1] - bz));
    whole_b += weight * (std::norm(br) + std::norm(bz));
  });
  return {std::sqrt(miss / whole), std::sqrt(miss_b / whole_b)};
}

// Property: halving the triangles of second order divides the error of the potential by eight and
// that of the flux density by four (L2 norms; G. Strang & G. Fix, An Analysis of the Finite Element
// Method, Prentice-Hall 1973 (from memory, page not looked up)), the axis included.
TEST(ManufacturedField, ThirdOrderPotentialSecondOrderFlux) {
  const double edge = .15 * kBoxRadius;
  const FieldErrors coarse = errors_with(edge), middle = errors_with(edge / 2),
                    fine = errors_with(edge / 4);
  expect_at_least(std::log2(coarse.potential / middle.potential), 2.8);
  expect_at_least(std::log2(middle.potential / fine.potential), 2.8);
  expect_at_least(std::log2(coarse.flux_density / middle.flux_density), 1.85);
  expect_at_least(std::log2(middle.flux_density / fine.flux_density), 1.85);
  expect_at_most(fine.potential, 4e-5);
  expect_at_most(fine.flux_density, 1.5e-3);
}

}  // namespace
}  // namespace cw::published
