// Spheres and shells: the reference against closed forms that share nothing with its series.
#include "tests/published/reference/layered_sphere.hpp"

#include <gtest/gtest.h>

#include "tests/published/check.hpp"
#include "tests/published/reference/dodd_deeds.hpp"

namespace cw::reference {
namespace {

using cw::published::expect_relative;
using cw::published::expect_within;

// Hollow sphere of 50 and 55 mm, 5e8 S/m, 50 Hz, 1 T peak: 10061.50 W and the field inside,
// evaluated from the closed form; and shells of other thickness against the hyperbolic form in
// dodd_deeds.cpp. Its power is for peak fields. Source: the problem of C. R. I. Emson, Results for
// a hollow sphere in uniform field (benchmark problem 6), COMPEL 7 (1988) 89 (from memory).
TEST(ReferenceLayeredSphere, ShellsInAUniformField) {
  const UniformFieldAnswer emson = layers_in_uniform_field({{.050}, {.055, 5e8}}, 50);
  expect_relative(emson.power[1], 2 * 10061.50, 1e-6);
  expect_within(emson.inside, {-.03491817589, -.04149911652}, 1e-10);
  expect_within(emson.dipole, {-.92017338, -.07699895}, 1e-8);
  for (const double inner : {.001, .040, .0548}) {
    for (const double hertz : {10., 1e3, 100e3}) {
      const ShellResponse exact = shell_in_uniform_field({inner, .055, 3e7}, hertz, 1.0);
      const UniformFieldAnswer found = layers_in_uniform_field({{inner}, {.055, 3e7}}, hertz);
      expect_relative(found.power[1], 2 * exact.power, 1e-7);
      expect_within(found.dipole, exact.dipole, 1e-8);
      expect_within(found.inside, exact.inside, 1e-8);
    }
  }
}

// A permeable sphere in a static field has the moment 2 (mu - 1)/(mu + 2), a permeable shell keeps
// out all but 9 mu/((2 mu + 1)(mu + 2) - 2 (a/b)^3 (mu - 1)^2); a poor conductor takes (2 pi/15)
// sigma w^2 b^5 B^2 (E = w B r/2). Source: J. D. Jackson, Classical Electrodynamics, 3rd ed., Wiley
// 1999, 5.11 and 5.12 (from memory).
TEST(ReferenceLayeredSphere, StaticAndWeakLimits) {
  for (const double mu : {2., 50., 2000.}) {
    expect_relative(layers_in_uniform_field({{.03, 0, mu}}, 50).dipole.real(),
                    2 * (mu - 1) / (mu + 2), 1e-12);
    const double ratio = std::pow(.027 / .03, 3);
    const double shielded = 9 * mu / ((2 * mu + 1) * (mu + 2) - 2 * ratio * (mu - 1) * (mu - 1));
    expect_relative(layers_in_uniform_field({{.027}, {.03, 0, mu}}, 50).inside.real(), shielded,
                    1e-10);
    // The same by way of the metal's functions.
    expect_relative(layers_in_uniform_field({{.027}, {.03, 1e-3, mu}}, 50).inside.real(), shielded,
                    1e-7);
  }
  const double w = 2 * kPi * 50, sigma = 10;
  expect_relative(layers_in_uniform_field({{.03, sigma}}, 50).power[0],
                  2 * kPi / 15 * sigma * w * w * std::pow(.03, 5), 1e-8);
}

// Round a perfectly conducting sphere a ring sees its image at radius^2/distance with
// distance/radius times the current, here at a skin depth of 6e-6 of the radius, less the R/w of
// its skin; near the sphere and far, beside and above it. Source: J. C. Maxwell, A Treatise on
// Electricity and Magnetism, 1873, on images in spheres (article not looked up; by inversion).
TEST(ReferenceLayeredSphere, ImageOfARing) {
  const double b = .020, hertz = 50e3;
  for (const auto& [r, z] : {std::pair{.030, 0.}, {.0215, .002}, {.010, .019}, {.1, .05}}) {
    const double square = r * r + z * z;
    const double shrink = b * b / square;
    const double exact =
        -std::sqrt(square) / b * mutual_inductance(r, shrink * r, (1 - shrink) * z);
    const Complex found = filaments_round_sphere({{r, z}}, {{b, 3e14}}, hertz).change;
    expect_relative((found.imag() - found.real()) / (2 * kPi * hertz), exact, 1e-6);
  }
}

// Property: cutting one metal into layers changes nothing, and resistance is the sum of the powers;
// steel on copper round a bore, 0.1 to 500 skin depths.
TEST(ReferenceLayeredSphere, CutsAndPowers) {
  const std::vector<Filament> rings{{.025, 0.}, {.018, .020}};
  for (const double hertz : {1., 1e3, 1e6}) {
    const LoadAnswer whole =
        filaments_round_sphere(rings, {{.004}, {.015, 5.8e7}, {.020, 5e6, 200}}, hertz);
    const LoadAnswer cut = filaments_round_sphere(
        rings, {{.001}, {.004}, {.0149, 5.8e7}, {.015, 5.8e7}, {.0199, 5e6, 200}, {.020, 5e6, 200}},
        hertz);
    expect_within(cut.change, whole.change, 1e-10 * std::abs(whole.change));
    expect_relative(whole.power[0] + whole.power[1] + whole.power[2], whole.change.real(), 1e-9);
    expect_within(cut.power[4] + cut.power[5], whole.power[2], 1e-10 * whole.change.real());
  }
}

// Identity: power by volume, sigma w^2 |A|^2 over the shell, at Gauss points between cuts of the
// metal, is what flows in through its faces.
TEST(ReferenceLayeredSphere, PowerByVolume) {
  const double a = .012, b = .020, sigma = 5e6, mu = 30, hertz = 300;
  const int n = 3;
  std::vector<Layer> cut{{a}};
  for (const double x : gauss_rule(24).node) cut.push_back({a + (b - a) * x, sigma, mu});
  cut.push_back({b, sigma, mu});
  const LayersAnswer answer = answer_to_degrees(cut, hertz, n)[n - 1];
  double sum = 0.0;
  for (std::size_t i = 0; i < 24; ++i) {
    const double r = cut[i + 1].outer;
    sum += (b - a) * gauss_rule(24).weight[i] * r * r * std::norm(answer.at_face[i + 1]);
  }
  const double w = 2 * kPi * hertz;
  expect_relative(sigma * w * w * sum,
                  w / kMu0 * b * std::norm(answer.at_face.back()) * answer.slope.back().imag(),
                  1e-9);
}

}  // namespace
}  // namespace cw::reference
