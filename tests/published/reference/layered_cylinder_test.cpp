// Coaxial layers and the rings round them: the reference compared with single metals, limits, thin
// walls and its own field. Nothing here is printed in a source; each comparison is named.
#include "tests/published/reference/layered_cylinder.hpp"

#include <gtest/gtest.h>

#include <boost/math/special_functions/bessel.hpp>

#include "tests/published/check.hpp"
#include "tests/published/reference/dodd_deeds.hpp"

namespace cw::reference {
namespace {

using cw::published::expect_at_most;
using cw::published::expect_relative;
using cw::published::expect_within;

constexpr double kCopperConductivity = 5.8e7;

std::vector<Filament> row_of(const RingRow& row) {
  std::vector<Filament> rings;
  for (int k = 0; k < row.count; ++k) {
    rings.push_back({row.torus.mean_radius, (k - 0.5 * (row.count - 1)) * row.pitch});
  }
  return rings;
}

double distance(Complex a, Complex b) {
  return std::abs(a - b) / std::abs(b);
}

// One layer is the rod of Dodd & Deeds 1968, as metal, as poor conductor and at a permeability of
// 2000; the rod's power is the resistance. Second method: the formulas of dodd_deeds.hpp, written
// apart and themselves compared with printed figures.
TEST(ReferenceLayeredCylinder, OneLayerIsTheRod) {
  const RingRow rings{{.025, .003}, .009, 5};
  for (const Metal& metal : {Metal{1.724e-8}, {72e-8}, {1000e-8}, {16e-8, 100}, {20e-8, 2000}}) {
    for (const double hertz : {1e3, 50e3}) {
      const Complex rod = filaments_round_rod(rings, {.010, metal}, hertz);
      const LoadAnswer found =
          filaments_round_layers(row_of(rings), {{.010, 1 / metal.rho, metal.mu_r}}, hertz);
      expect_within(found.change, rod, 1e-8 * std::abs(rod));
      expect_relative(found.power[0], rod.real(), 1e-8);
    }
  }
}

// Property: cutting one metal into layers changes nothing, and a layer of air is nothing.
TEST(ReferenceLayeredCylinder, CutsInOneMetalDoNotShow) {
  const auto rings = row_of({{.025, .003}, .009, 3});
  const LoadAnswer whole = filaments_round_layers(rings, {{.004}, {.010, 4e6, 300}}, 20e3);
  const LoadAnswer cut = filaments_round_layers(
      rings, {{.001}, {.004}, {.0041, 4e6, 300}, {.0099, 4e6, 300}, {.010, 4e6, 300}, {.015}},
      20e3);
  expect_within(cut.change, whole.change, 1e-11 * std::abs(whole.change));
  expect_relative(cut.power[2] + cut.power[3] + cut.power[4], whole.power[1], 1e-11);
  const Complex nothing = filaments_round_layers(rings, {{.004}, {.010}}, 20e3).change;
  EXPECT_LT(std::abs(nothing), 1e-13 * std::abs(whole.change));
}

/// Field in the bore over the applied one in a uniform axial field: both A are B r/2.
Complex bore_field(const std::vector<Layer>& layers, double hertz) {
  const LayersAnswer a = answer_to_harmonic(layers, hertz, 1e-6 / layers.back().outer);
  return a.at_face[0] * layers.back().outer / layers[0].outer;
}

// Without variation along the axis it is the endless solenoid: the field in a bore is that of a
// thin wall, 1/(1 + j w mu0 sigma a t/2), and of a magnetic wall of any thickness in skin depths,
// 1/(cosh kt + ka/(2 mu_r) sinh kt), both for t far below the radius, here 1e-4 of it. Source: H.
// Kaden, Wirbelstroeme und Schirmung in der Nachrichtentechnik, 2nd ed., Springer 1959 (from
// memory, page not looked up).
TEST(ReferenceLayeredCylinder, ThinWallsInASolenoid) {
  const double a = .020, t = 2e-6;
  for (const double hertz : {1e3, 10e3, 100e3}) {
    const double w = 2 * kPi * hertz;
    const Complex found = bore_field({{a - t / 2}, {a + t / 2, kCopperConductivity}}, hertz);
    const Complex thin = 1.0 / (1.0 + kJ * w * kMu0 * kCopperConductivity * a * t / 2.0);
    expect_within(found, thin, 2e-4 * std::abs(thin));
    const double mu = 200, sigma = 6e6;
    const Complex k = std::sqrt(kJ * w * kMu0 * mu * sigma);
    for (const double wall : {2e-6, 20e-6}) {
      const Complex steel = bore_field({{a - wall / 2}, {a + wall / 2, sigma, mu}}, hertz);
      const Complex kaden = 1.0 / (std::cosh(k * wall) + k * a / (2 * mu) * std::sinh(k * wall));
      expect_within(steel, kaden, 2 * wall / a * std::abs(kaden));
    }
  }
}

// In the endless solenoid a rod takes pi a (rho/d) F per unit of H^2, and the tube the power of
// skin.hpp. Source: J. Davies & P. Simpson, Induction Heating Handbook, McGraw-Hill 1979 (from
// memory, page not looked up); F from the first terms of Hankel's series at 500 skin depths, 1 -
// 1/(2q) ... (Abramowitz & Stegun 1964, 9.7.1, from memory). The power per length follows from the
// slope of A: Im(mu0 a H/A) |A|^2 w/mu0 2 pi.
TEST(ReferenceLayeredCylinder, SolidRodsAndTubesInASolenoid) {
  const double a = .020;
  const auto power = [&](const std::vector<Layer>& layers, double hertz) {
    const LayersAnswer x = answer_to_harmonic(layers, hertz, 1e-6 / a);
    // B0 a/2 is the source; H0 = 1 A/m peak.
    const double source = kMu0 * a / 2;
    return kPi * 2 * kPi * hertz / kMu0 * source * source * std::norm(x.at_face.back()) *
           x.slope.back().imag();
  };
  const double q = 500, sigma = 5e6, mu = 40;
  const double depth = a / q;
  const double hertz = 1 / (kPi * kMu0 * mu * sigma * depth * depth);
  const Complex x = Complex(1, 1) * q;
  const Complex hankel = Complex(1, 1) * (1.0 - 0.5 / x - 0.125 / (x * x));
  expect_relative(power({{a, sigma, mu}}, hertz), kPi * a / (sigma * depth) * hankel.real(), 1e-8);
  for (const double bore : {.0004, .010, .0196}) {
    for (const double f : {100., 10e3, 1e6}) {
      const TubeResponse tube = tube_in_axial_field({bore, a}, 1 / kCopperConductivity, f, 1.0);
      expect_relative(power({{bore}, {a, kCopperConductivity}}, f), tube.power, 1e-8);
      expect_within(bore_field({{bore}, {a, kCopperConductivity}}, f), tube.bore_over_applied,
                    1e-8);
    }
  }
}

/// Power [W] of one ring per 1 A rms in layer `which`, by volume: sigma w^2 |A|^2 at Gauss points
/// of the radius, whose potentials are those at the faces of so many cuts of the layer.
double power_by_volume(const Filament& ring, const std::vector<Layer>& layers, std::size_t which,
                       double hertz) {
  const double inner = which == 0 ? 0.0 : layers[which - 1].outer;
  const Layer& layer = layers[which];
  const double width = layer.outer - inner;
  std::vector<double> radius, weight;
  for (int panel = 0; panel < 6; ++panel) {  // thinner towards the surface
    const double upper = std::ldexp(width, -panel), lower = panel == 5 ? 0.0 : upper / 2;
    for (std::size_t i = 0; i < 7; ++i) {
      radius.push_back(layer.outer - upper + (upper - lower) * gauss_rule(7).node[i]);
      weight.push_back((upper - lower) * gauss_rule(7).weight[i] * radius.back());
    }
  }
  std::vector<Layer> cut(layers.begin(), layers.begin() + static_cast<std::ptrdiff_t>(which));
  for (const double r : radius) cut.push_back({r, layer.conductivity, layer.mu_r});
  cut.insert(cut.end(), layers.begin() + static_cast<std::ptrdiff_t>(which), layers.end());
  const double face = layers.back().outer;
  const auto kernel = [&](double alpha) {
    const LayersAnswer answer = answer_to_harmonic(cut, hertz, alpha);
    const double source = kMu0 * ring.r * boost::math::cyl_bessel_k(1, alpha * ring.r) *
                          boost::math::cyl_bessel_i(1, alpha * face);
    double sum = 0.0;
    for (std::size_t i = 0; i < radius.size(); ++i) {
      sum += weight[i] * std::norm(answer.at_face[which + i] * source);
    }
    return sum;
  };
  const double w = 2 * kPi * hertz;
  return 2 * layer.conductivity * w * w *
         integrate_panels(kernel, graded_edges(1 / ring.r, 14 / (ring.r - face)), 6);
}

// Identity: energy is conserved. The resistance the layers add is the sum of their powers, each
// found by integrating sigma |E|^2 over its volume. Copper on steel round a bore, and brass in a
// steel pipe.
TEST(ReferenceLayeredCylinder, PowersByVolumeAddUpToTheResistance) {
  const Filament ring{.025, 0};
  for (const auto& layers :
       {std::vector<Layer>{{.004}, {.009, 4e6, 300}, {.0095, kCopperConductivity}},
        std::vector<Layer>{{.010, 1.6e7}, {.014}, {.016, 5e6, 50}}}) {
    const double hertz = 3e3;
    const LoadAnswer found = filaments_round_layers({ring}, layers, hertz);
    double sum = 0.0;
    for (std::size_t i = 0; i < layers.size(); ++i) {
      const double power =
          layers[i].conductivity > 0 ? power_by_volume(ring, layers, i, hertz) : 0.0;
      expect_within(found.power[i], power, 1e-8 * found.change.real());
      sum += power;
    }
    expect_relative(sum, found.change.real(), 1e-8);
  }
}

// Property: twice the points and a longer reach change nothing to 1e-8, over the whole range of
// use: thin rods in wide coils, narrow gaps, 500 skin depths, permeability 2000; and filaments are
// as good as rectangular sections.
TEST(ReferenceLayeredCylinder, TheIntegralsAreConverged) {
  struct Shape {
    double rod, mu_r, coil, length, hertz;
  };
  for (const Shape& s : {Shape{.0005, 2000, .010, .020, 100e3},
                         {.0005, 1, .010, .004, 1e3},
                         {.100, 1, .110, .040, 50},
                         {.100, 500, .110, .020, 100e3},
                         {.025, 50, .5, .4, 2e3}}) {
    const double sigma = 5e6;
    const RectangularRing band{s.coil, s.coil * 1.1, -s.length / 2, s.length / 2};
    const std::vector<Layer> layers{{s.rod * .5}, {s.rod, sigma, s.mu_r}};
    const int points = 12;
    const LoadAnswer found = filaments_round_layers(filaments_of(band, points), layers, s.hertz);
    const LoadAnswer fine =
        filaments_round_layers(filaments_of(band, points + 6), layers, s.hertz, {24, 20.});
    expect_at_most(distance(found.change, fine.change), 1e-8);
    expect_relative(found.power[1], fine.power[1], 1e-8);
  }
}

// Property: far from a ring round a rod with a weak response, A at the face is that of the ring
// alone, whose square falls as z^-6: mutual_inductance (Maxwell) integrated beyond 4 radii and over
// all.
TEST(ReferenceLayeredCylinder, ShareBeyondIsThatOfARingAlone) {
  const double ring = .025, face = .005, z = .1;
  const auto square = [&](double at) {
    const double flux = mutual_inductance(ring, face, at);
    return flux * flux;
  };
  const double beyond = integrate(square, z, 3 * z, 24);
  const double all = integrate_panels(square, {0, .02, .05, .1, .3}, 24);
  expect_relative(share_beyond({{ring, 0}}, {{face, 1e3}}, 50, z), beyond / all, .1);
}

}  // namespace
}  // namespace cw::reference
