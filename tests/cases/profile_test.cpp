// Bodies with a temperature that depends on the depth below their outside.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "materials/library.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/heater/body_temperature.hpp"

namespace cw::cases {
namespace {

/// A 30 mm bar of steel in six turns at 20 kHz; cases differ in `work` and `more`.
Case profiled_bar(const std::string& work, const std::string& more = "") {
  return read_case_text(
      "[workpiece]\nmaterial = \"steel-medium-carbon\"\ndiameter = \"30 mm\"\n"
      "length = \"120 mm\"\n" +
          work + more +
          "[coil]\nturns = 6\nbore = \"42 mm\"\npitch = \"10 mm\"\n"
          "conductor = { tube = \"8 mm\", wall = \"1 mm\" }\n"
          "[drive]\nkind = \"current\"\nfrequency = \"20 kHz\"\nrms = \"500 A\"\n",
      "bar.toml");
}

cw::Run solved_profile(const Case& subject, Effort effort = Effort::normal) {
  for (const std::string& error : check_case(subject).errors) ADD_FAILURE() << error;
  return run_case(subject, effort);
}

// A body with a profile, a skin above the Curie point over a cold magnetic core, equals two bodies,
// tube and core, each at its temperature: coil resistance, inductance and the power of both
// together. The profile changes within 0.2 um; outside and ends of the two-body case are equally
// hot.
TEST(TemperatureProfile, HotSkinIsLikeTwoBodies) {
  const Case one = profiled_bar(
      "temperature_profile = [[\"0 mm\", \"900 degC\"], [\"1.49997 mm\", \"900 degC\"], "
      "[\"1.50017 mm\", \"20 degC\"], [\"15 mm\", \"20 degC\"]]\n");
  const Case two =
      profiled_bar("temperature = \"900 degC\"\n",
                   "[[body]]\nname = \"core\"\nmaterial = \"steel-medium-carbon\"\n"
                   "temperature = \"20 degC\"\ndiameter = \"27 mm\"\nlength = \"117 mm\"\n");
  Case shell = two;  // the bar becomes what surrounds the core, closed at its ends
  shell.workpiece->outline.profile = {{0, -.06},  {.015, -.06},   {.015, .06},     {0, .06},
                                      {0, .0585}, {.0135, .0585}, {.0135, -.0585}, {0, -.0585}};
  shell.workpiece->outline.diameter.reset();
  shell.workpiece->outline.length.reset();
  const cw::Run a = solved_profile(one), b = solved_profile(shell);
  const StateResult &x = a.result.states.at(0), &y = b.result.states.at(0);
  const double both = *y.power.workpiece + y.power.bodies.at("core");
  EXPECT_GT(y.power.bodies.at("core"), 0.05 * both);  // the core takes part
  EXPECT_NEAR(*x.power.workpiece, both, 0.01 * both);
  EXPECT_NEAR(x.coil.inductance, y.coil.inductance, 2e-3 * y.coil.inductance);
  EXPECT_EQ(x.saturation->relative_permeability, 1.0);
  EXPECT_NEAR(*x.skin_depth, *y.skin_depth, 1e-6 * *y.skin_depth);
}

// The mesh resolves the depth at which magnetism begins under a hot skin: power on the usual mesh
// is within 1 % of that on the fine one, and between that of a cold and that of a hot bar.
TEST(TemperatureProfile, TheBuriedSkinIsResolved) {
  const auto path = std::filesystem::path(COILWRIGHT_EXAMPLES) / "hot-skin.toml";
  const double
      usual = *solved_profile(read_case(path)).result.states.at(0).power.workpiece,
      fine = *solved_profile(read_case(path), Effort::fine).result.states.at(0).power.workpiece;
  EXPECT_NEAR(usual, fine, 0.01 * fine);
}

// The losses from the field add up to the power that enters at the terminals. With a conductivity
// that varies inside the body, loss and impedance are two different integrals of one field.
TEST(TemperatureProfile, LossIsWhatEntersAtTheTerminals) {
  for (const char* metal : {"steel-medium-carbon", "aluminium-6061-t6"}) {
    Case subject =
        profiled_bar("temperature_profile = [[\"0 mm\", \"500 degC\"], [\"5 mm\", \"20 degC\"]]\n");
    subject.workpiece->material = find_material(metal);
    const cw::Run run = solved_profile(subject);
    const SolvedState& s = run.states.at(0);
    double sum = 0;
    for (const double watts : s.coil.region_loss) sum += watts;
    EXPECT_NEAR(sum, s.coil.series.impedance.real(), 1e-3 * sum) << metal;
    EXPECT_NEAR(run.result.states[0].power.sum(), run.result.states[0].power.total,
                1e-9 * run.result.states[0].power.total);
  }
}

// A profile with the same temperature at every depth equals that temperature, for steel and for a
// metal that is never magnetic; there the two meshes differ, as layers grow more slowly for a
// profile.
TEST(TemperatureProfile, UniformProfileIsUniform) {
  for (const char* metal : {"steel-medium-carbon", "aluminium-6061-t6"}) {
    Case flat = profiled_bar(
        "temperature_profile = [[\"0 mm\", \"300 degC\"], [\"9 mm\", \"300 degC\"]]\n");
    Case plain = profiled_bar("temperature = \"300 degC\"\n");
    flat.workpiece->material = plain.workpiece->material = find_material(metal);
    const StateResult a = solved_profile(flat).result.states.at(0),
                      b = solved_profile(plain).result.states.at(0);
    const double same = flat.workpiece->material.magnetisation ? 1e-5 : 1e-3;
    EXPECT_NEAR(*a.power.workpiece, *b.power.workpiece, same * *b.power.workpiece) << metal;
    EXPECT_NEAR(a.coil.inductance, b.coil.inductance, 0.1 * same * b.coil.inductance) << metal;
    EXPECT_EQ(a.workpiece_temperature->kelvin, b.workpiece_temperature->kelvin);
    EXPECT_NEAR(*a.skin_depth, *b.skin_depth, 1e-4 * *b.skin_depth) << metal;
  }
}

// A run of cold steel reports its saturation: a permeability at the surface far below that of a
// weak field, the range of skin depths along it, which includes that at the strongest field, and
// most of the power within the first skin depth (1 - exp(-2) in a linear metal, more if
// permeability rises inwards). Above the Curie point it reports none of this.
TEST(Saturation, ARunSaysHowFarTheSteelSaturates) {
  const Case cold = profiled_bar("temperature = \"20 degC\"\n");
  const StateResult s = solved_profile(cold).result.states.at(0);
  ASSERT_TRUE(s.saturation);
  const double weak = cold.workpiece->material.initial_permeability(cold.workpiece->temperature);
  EXPECT_GT(s.saturation->relative_permeability, 10);
  EXPECT_LT(s.saturation->relative_permeability, 0.2 * weak);
  EXPECT_LT(s.saturation->least_skin_depth, 0.9 * *s.skin_depth);
  EXPECT_NEAR(s.saturation->largest_skin_depth, *s.skin_depth, 1e-9);
  EXPECT_GT(s.saturation->share_in_first_skin_depth, 1 - std::exp(-2.0));
  EXPECT_LE(s.saturation->share_in_first_skin_depth, 1.0);
  EXPECT_FALSE(
      solved_profile(profiled_bar("temperature = \"900 degC\"\n")).result.states.at(0).saturation);
}

// Depth counts from the outside, ends included, never from a bore; temperature is linear between
// the points and held beyond them.
TEST(TemperatureProfile, DepthCountsFromTheOutside) {
  const Outline tube{.02, .01, .06, 0.0, {{.005, -.03}, {.01, -.03}, {.01, .03}, {.005, .03}}};
  EXPECT_NEAR(depth_below_outside(tube, {.006, 0}), .004, 1e-12);
  EXPECT_NEAR(depth_below_outside(tube, {.0055, .029}), .001, 1e-12);
  const Outline turned{.02, .01, .06, 0.0, {{.005, .03}, {.01, .03}, {.01, -.03}, {.005, -.03}}};
  EXPECT_NEAR(depth_below_outside(turned, {.006, 0}), .004, 1e-12);
  const TemperatureProfile profile{{0, {1000}}, {.002, {600}}, {.004, {500}}};
  EXPECT_DOUBLE_EQ(temperature_at(profile, 0).kelvin, 1000);
  EXPECT_DOUBLE_EQ(temperature_at(profile, .001).kelvin, 800);
  EXPECT_DOUBLE_EQ(temperature_at(profile, .003).kelvin, 550);
  EXPECT_DOUBLE_EQ(temperature_at(profile, .009).kelvin, 500);
  const Material steel = find_material("steel-medium-carbon");  // Curie point 1043 K
  EXPECT_FALSE(depth_of_magnetism(profile, steel));
  EXPECT_NEAR(*depth_of_magnetism({{0, {1243}}, {.004, {843}}}, steel), .002, 2e-6);
}

}  // namespace
}  // namespace cw::cases
