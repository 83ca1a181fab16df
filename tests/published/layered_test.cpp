// Bodies whose properties change inside them, given point by point.
#include <gtest/gtest.h>

#include <cmath>

#include "solver/field/nonlinear_field.hpp"
#include "tests/published/reference/bessel.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

/// An endless cylinder of two metals.
struct Layered {
  double core_radius, radius;  ///< [m]
  double core_sigma, skin_sigma;
};

/// Power [W/m] at 1 A/m rms on the surface. In each metal H'' + H'/r = j w mu0 sigma H, so H is
/// I0 in the core, I0 and K0 in the skin; H and E = -H'/sigma are continuous between them.
double power_per_length(const Layered& c, double hertz) {
  const double w = 2 * reference::kPi * hertz;
  const auto k = [&](double sigma) { return std::sqrt(Complex{0, w * mu0 * sigma}); };
  const Complex k1 = k(c.core_sigma), k2 = k(c.skin_sigma);
  const auto i = [](int n, Complex z) { return std::exp(z) * reference::scaled_i(n, z); };
  const auto kk = [](int n, Complex z) { return std::exp(-z) * reference::scaled_k(n, z); };
  // H = i0 + x k0 in the skin; its H'/(sigma H) at the core's radius is the core's.
  const double b = c.core_radius, a = c.radius;
  const Complex core = k1 * i(1, k1 * b) / (c.core_sigma * i(0, k1 * b));
  const Complex x = (k2 * i(1, k2 * b) / c.skin_sigma - core * i(0, k2 * b)) /
                    (k2 * kk(1, k2 * b) / c.skin_sigma + core * kk(0, k2 * b));
  const Complex slope = k2 * (i(1, k2 * a) - x * kk(1, k2 * a));
  const Complex field = i(0, k2 * a) + x * kk(0, k2 * a);
  return 2 * reference::kPi * a / c.skin_sigma * (slope / field).real();
}

// A cylinder of two conductivities, both given point by point and not by the media: power against
// the closed form with Bessel functions. Source: for the single metal J. Davies & P. Simpson,
// Induction Heating Handbook, McGraw-Hill 1979 (from memory, page not looked up); for two, its
// continuity conditions (derivation), evaluated from the closed form. The skin is a tenth or 1.3
// times as conductive as the core and a quarter to twice its own skin depth thick.
TEST(Layered, CylinderOfTwoConductivities) {
  for (const auto& [core, skin] : {std::pair{5e6, .5e6}, std::pair{1e6, 1.3e6}})
    for (const double hertz : {2e3, 20e3}) {
      const Layered c{.007, .010, core, skin};
      constexpr double height = .012;
      Model model({{"core", rectangle({0, 0}, {c.core_radius, height}), {5e6, 1 / mu0}},
                   {"skin", rectangle({c.core_radius, 0}, {c.radius, height}), {5e6, 1 / mu0}}},
                  {hertz, Sizing{}.scaled(.5), Box{c.radius, 0, height}, {false, false, false}});
      const auto local = [&](const MeshPoint& p) {
        return LocalMedium{p.at.r < c.core_radius ? c.core_sigma : c.skin_sigma, 0.0};
      };
      SaturatingOptions options;
      options.surface_field = 1.0;
      const SaturatedField found =
          solve_saturating(model.system(),
                           {{model.region("core"), nullptr, 0.0, local},
                            {model.region("skin"), nullptr, 0.0, local}},
                           {hertz}, surface_field_source(model.system()).cast<Complex>(), options);
      SCOPED_TRACE(testing::Message() << core << " S/m at " << hertz << " Hz");
      const auto loss = region_losses(model.mesh(), found.field);
      expect_relative((loss[model.region("core")] + loss[model.region("skin")]) / height,
                      power_per_length(c, hertz), 1e-3);
    }
}

}  // namespace
}  // namespace cw::published
