// Balls and spherical shells under coaxial stranded turns and in a uniform field, on the default
// mesh: power and change of inductance against the series in Legendre's functions
// (reference/layered_sphere.hpp). Impedances are the same for rms and peak; the uniform field is 1
// T rms.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/published/check.hpp"
#include "tests/published/reference/layered_sphere.hpp"
#include "tests/published/solve_for_check.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

/// A ball about the origin, hollow with a `bore` [m], and its metal.
struct Ball {
  std::string what;
  double radius, bore;
  double conductivity, mu_r;  ///< [S/m], 1
  double hertz;
};

std::vector<reference::Layer> layers_of(const Ball& ball) {
  const reference::Layer metal{ball.radius, ball.conductivity, ball.mu_r};
  if (ball.bore == 0) return {metal};
  return {{ball.bore}, metal};
}

Medium medium_of(const Ball& ball) {
  return {ball.conductivity, 1 / (mu0 * ball.mu_r)};
}

/// Power and change of inductance within 1e-3.
void check_sphere(const Ball& ball, const RingsOfCheck& rings) {
  SCOPED_TRACE(ball.what);
  Section section;
  section.regions.push_back({"workpiece", Disc{{0, 0}, ball.radius, ball.bore}});
  Media media{{}, medium_of(ball)};
  const TurnSet set = add_rings(section, media, rings_of(rings));
  const auto exact =
      reference::filaments_round_sphere(filaments_of(rings_of(rings)), layers_of(ball), ball.hertz);
  const Checked found = solve_for_check(section, media, set, {ball.hertz});
  expect_relative(found.loss[1], exact.power.back(), 1e-3);
  const double w = 2 * reference::kPi * ball.hertz;
  expect_within(found.change.imag() / w, exact.change.imag() / w,
                reactance_tolerance(exact.change) / w);
}

// Solid balls of 2 to 100 mm in one to three turns, 1.2 to 13 times as wide; up to 222 skin depths
// in the radius, permeability to 2000. Source: series in Legendre's functions, W. R. Smythe, Static
// and Dynamic Electricity, 3rd ed., McGraw-Hill 1968, chapter 10 (from memory); evaluated from the
// closed form (layered_sphere.hpp).
TEST(LayeredSphere, BallsInTurns) {
  check_sphere({"2 mm copper", .001, 0, 5.8e7, 1, 500e3}, {.0013, .0002, .0004, .0005, 3});
  check_sphere({"40 mm aluminium", .020, 0, 3.5e7, 1, 5e3}, {.025, .003, .004, .005, 3});
  check_sphere({"20 mm steel, mu 200", .010, 0, 5e6, 200, 10e3}, {.012, .002, .002, .003, 2});
  check_sphere({"6 mm steel, mu 2000, in a wide turn", .003, 0, 5e6, 2000, 20e3},
               {.040, .004, .004, .004, 1});
  check_sphere({"100 mm hot steel", .050, 0, 9e5, 1, 3e3}, {.075, .01, .01, .02, 3});
  check_sphere({"100 mm steel, mu 100", .050, 0, 5e6, 100, 10e3}, {.060, .01, .01, .02, 2});
}

// Shells with walls of a third of a skin depth to seven of them. Source: the same series, evaluated
// for layers.
TEST(LayeredSphere, ShellsInTurns) {
  check_sphere({"40 mm copper, wall 1 mm", .020, .019, 5.8e7, 1, 1e3}, {.030, .003, .003, .005, 3});
  check_sphere({"100 mm steel, mu 100, wall 5 mm", .050, .045, 5e6, 100, 1e3},
               {.060, .01, .01, .02, 2});
  check_sphere({"22 mm stainless, wall 1 mm", .011, .010, 1.4e6, 1, 20e3},
               {.0125, .002, .002, .003, 2});
}

// Balls and shells in a uniform field, default mesh: power within 1e-3. Source: first term of the
// same series; for a solid ball also C. P. Bidinosti, E. M. Chapple & M. E. Hayden, The sphere in a
// uniform RF field - revisited, Concepts Magn. Reson. B 31 (2007) 191 (not read).
TEST(LayeredSphere, UniformField) {
  for (const Ball& ball : std::vector<Ball>{{"aluminium", .020, 0, 3.5e7, 1, 1e3},
                                            {"steel, mu 200", .010, 0, 5e6, 200, 3e3},
                                            {"steel shell, mu 100", .050, .045, 5e6, 100, 50},
                                            {"stainless shell", .011, .010, 1.4e6, 1, 20e3}}) {
    SCOPED_TRACE(ball.what);
    Model model({{"workpiece", Disc{{0, 0}, ball.radius, ball.bore}, medium_of(ball)}},
                {ball.hertz});
    const FieldSolution field = model.respond(uniform_field_source(model.system()));
    const auto exact = reference::layers_in_uniform_field(layers_of(ball), ball.hertz);
    expect_relative(model.loss(field, "workpiece"), exact.power.back(), 1e-3);
  }
}

}  // namespace
}  // namespace cw::published
