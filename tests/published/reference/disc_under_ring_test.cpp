// The disc under a ring: its integral equation against a second one that shares no code, limits
// and its own convergence.
#include "tests/published/reference/disc_under_ring.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>

#include "tests/published/check.hpp"
#include "tests/published/reference/dodd_deeds.hpp"

namespace cw::reference {
namespace {

using cw::published::expect_at_most;
using cw::published::expect_relative;
using cw::published::expect_within;

// A poor conductor takes sigma w^2 times the volume integral of |A|^2 of the ring alone; disc and
// washer. Source: J. C. Maxwell, A Treatise on Electricity and Magnetism, 1873, art. 701,
// integrated.
TEST(ReferenceDisc, PoorConductor) {
  const double sigma = 1e3, hertz = 50, w = 2 * kPi * hertz;
  const Filament ring{.030, .005};
  for (const double bore : {0., .015}) {
    const double c = .040, t = .006;
    const auto of_radius = [&](double r) {
      return integrate(
          [&](double z) {
            const double flux = mutual_inductance(ring.r, r, ring.z - z);
            return flux * flux / (2 * kPi * r);
          },
          -t, 0, 12);
    };
    const double exact =
        sigma * w * w * integrate_panels(of_radius, {bore, .02, .027, .03, .033, c}, 12);
    expect_relative(filaments_over_disc({ring}, {c, t, sigma, bore}, hertz).power[0], exact, 1e-6);
  }
}

// A disc far wider than the ring is a plate: what lies beyond the rim falls as the third power of
// the radius. Discs thinner than the skin, as thick, and thicker. Source: C. V. Dodd & W. E. Deeds,
// Analytical solutions to eddy-current probe-coil problems, J. Appl. Phys. 39 (1968) 2829 (form
// from memory), evaluated from the closed form.
TEST(ReferenceDisc, WideDiscIsAPlate) {
  const double ring = .010, lift = .004, sigma = 3.5e7;
  for (const double t : {.2e-3, 2e-3, 8e-3}) {
    const Complex plate = loop_over_plate(ring, lift, {{1 / sigma}, t}, 2e3);
    const Complex wide = filaments_over_disc({{ring, lift}}, {4 * ring, t, sigma}, 2e3).change;
    const Complex wider = filaments_over_disc({{ring, lift}}, {12 * ring, t, sigma}, 2e3).change;
    expect_within(wider, plate, 2e-4 * std::abs(plate));
    EXPECT_LT(std::abs(wider - plate), .25 * std::abs(wide - plate));
  }
}

/// The disc as n by m coupled rings of square section, filaments but for their self-inductance,
/// mu0 r (ln(8 r/g) - 2) with g = 0.44705 of the side (Maxwell's mean distance of a square, Rosa &
/// Grover, Bull. Bur. Stand. 8, 1911; from memory): the change of impedance of one ring.
Complex coupled_rings(const Filament& ring, const FlatDisc& disc, double hertz, int n) {
  const double side = disc.radius / n, w = 2 * kPi * hertz;
  const int m = static_cast<int>(std::lround(disc.thickness / side));
  Eigen::MatrixXcd matrix(n * m, n * m);
  Eigen::VectorXcd mutual(n * m);
  const auto r = [&](int i) { return side * (i % n + .5); };
  const auto z = [&](int i) { return -side * (i / n + .5); };
  for (int i = 0; i < n * m; ++i) {
    mutual[i] = mutual_inductance(ring.r, r(i), ring.z - z(i));
    for (int j = 0; j <= i; ++j) {
      const double l = i == j ? kMu0 * r(i) * (std::log(8 * r(i) / (.44705 * side)) - 2)
                              : mutual_inductance(r(i), r(j), z(i) - z(j));
      matrix(i, j) = matrix(j, i) = kJ * w * l;
    }
    matrix(i, i) += 2 * kPi * r(i) / (disc.conductivity * side * side);
  }
  const Eigen::VectorXcd current = matrix.partialPivLu().solve(mutual);
  return w * w * (mutual.transpose() * current)(0);
}

// Coupled filament rings with Maxwell's mutual inductances, sides halved and extrapolated
// (Richardson, second order), reach the same change of impedance to 1e-3: a disc of one to three
// skin depths, ring inside and outside the rim. Second method: those coupled rings; no published
// source.
TEST(ReferenceDisc, CoupledRingsExtrapolated) {
  const FlatDisc disc{.032, .008, 3.5e7};
  for (const Filament& ring : {Filament{.020, .006}, {.045, .004}}) {
    for (const double hertz : {100., 1e3}) {
      const Complex exact = filaments_over_disc({ring}, disc, hertz).change;
      const Complex coarse = coupled_rings(ring, disc, hertz, 12);
      const Complex fine = coupled_rings(ring, disc, hertz, 24);
      const Complex limit = (4.0 * fine - coarse) / 3.0;
      expect_within(limit, exact, 1e-3 * std::abs(exact));
      EXPECT_LT(std::abs(limit - exact), .5 * std::abs(coarse - exact));
    }
  }
}

// Property: polynomials of two degrees more and an integral half as long again change power and
// |change| by less than 5e-6; resistance is the power.
TEST(ReferenceDisc, OrdersAgree) {
  struct Case {
    Filament ring;
    FlatDisc disc;
    double hertz;
  };
  for (const Case& c : {Case{{.030, .005}, {.040, .001, 5.8e7}, 10e3},
                        {{.030, .005}, {.030, .010, 1.4e6}, 20e3},
                        {{.050, .008}, {.030, .010, 3.5e7}, 5e3},
                        {{.010, .004}, {.020, .0001, 5.8e7}, 5e3}}) {
    const LoadAnswer found = filaments_over_disc({c.ring}, c.disc, c.hertz);
    const LoadAnswer finer = filaments_over_disc({c.ring}, c.disc, c.hertz, {10, 8, 1800});
    expect_relative(found.power[0], finer.power[0], 5e-6);
    expect_at_most(std::abs(found.change - finer.change) / std::abs(finer.change), 5e-6);
    expect_relative(found.change.real(), found.power[0], 1e-9);
  }
}

}  // namespace
}  // namespace cw::reference
