// Skin effect in long bodies and in rings so large that they are straight. Reference powers are for
// PEAK fields; the solver's phasors are rms, so its power at 1 A/m rms is twice that at 1 A/m peak.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <tuple>

#include "tests/published/reference/bessel.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

/// A slice of an endless body with H_z given at its outside: natural boundary conditions all round.
constexpr BorderConditions kSlice{false, false, false};

/// Frequency [Hz] at which the metal's skin depth is `depth` [m].
double hertz_for(const reference::Metal& metal, double depth) {
  return metal.rho / (reference::kPi * mu0 * metal.mu_r * depth * depth);
}

/// A slice of an endless cylinder or tube under 1 A/m rms.
struct Slice {
  double power;        ///< [W/m]
  double reactive;     ///< [var/m]
  Complex mean_flux;   ///< over the whole section [T]
  Complex bore_field;  ///< on the axis [A/m]
};

Slice axial_field(const reference::Tube& tube, const reference::Metal& metal, double hertz,
                  double finer = 1.0) {
  const double height = 1.2 * tube.outer;
  Model model({{"workpiece", rectangle({tube.inner, 0}, {tube.outer, height}), medium(metal)}},
              {hertz, Sizing{}.scaled(finer), Box{tube.outer, 0, height}, kSlice});
  const Eigen::VectorXd source = surface_field_source(model.system());
  const FieldSolution field = model.respond(source);
  // The source weighs the potential over the outer side: 2 pi a times its mean there.
  const Complex surface =
      source.cast<Complex>().cwiseProduct(model.system().to_unknowns(field.potential)).sum() /
      (2 * reference::kPi * tube.outer * height);
  return {model.loss(field, "workpiece") / height,
          2 * model.frequency().omega() * model.energy(field) / height, 2.0 * surface / tube.outer,
          probe(model.mesh(), field, {0, .5 * height}).flux_z / mu0};
}

// Solid cylinder in an axial field: active and reactive power and effective permeability, radius
// 1/4 to 100 skin depths. Source: classical Bessel functions, J. Davies & P. Simpson, Induction
// Heating Handbook, McGraw-Hill 1979 (from memory, page not looked up); F. Foerster, Z. Metallkunde
// 43 (1952) 163 (from memory); evaluated from the closed form. The mesh is 0.7 times as coarse as
// the default; the next test is on the default mesh.
TEST(SkinEffect, CylinderInAnAxialField) {
  const double a = .010;
  for (const reference::Metal& metal : {reference::Metal{1.724e-8}, {16e-8, 100}}) {
    for (const double ratio : {.25, .5, 1., 1.5, 1.75, 2., 3., 5., 10., 20., 50., 100.}) {
      const double hertz = hertz_for(metal, a / ratio);
      const Slice found = axial_field({0, a}, metal, hertz, .7);
      const Complex loss = reference::cylinder_loss_functions(ratio);
      const double unit = 2 * reference::kPi * ratio * metal.rho;  // rms
      const Complex mu = reference::effective_permeability(ratio);
      SCOPED_TRACE(testing::Message()
                   << "radius / skin depth " << ratio << ", mu_r " << metal.mu_r);
      expect_relative(found.power, unit * loss.real(), 1e-3);
      expect_relative(found.reactive, unit * loss.imag(), 1e-3);
      expect_within(found.mean_flux / (mu0 * metal.mu_r), mu, 1e-3 * std::abs(mu));
    }
  }
}

// On the default mesh the same powers are within 2e-3; the error is largest at 3 to 4 skin depths,
// where the coarse core begins inside the skin. Source: as before, Davies & Simpson 1979.
TEST(SkinEffect, CylinderOnTheDefaultMesh) {
  const reference::Metal metal{72e-8};
  for (const double ratio : {1., 3., 5., 7., 10., 14., 20., 30., 50., 100.}) {
    const Slice found = axial_field({0, .01}, metal, hertz_for(metal, .01 / ratio));
    const Complex loss =
        reference::cylinder_loss_functions(ratio) * (2 * reference::kPi * ratio * metal.rho);
    SCOPED_TRACE(ratio);
    expect_relative(found.power, loss.real(), 2e-3);
    expect_relative(found.reactive, loss.imag(), 2e-3);
  }
}

// Power per metre of a 20 mm rod at 50 kHz and 50 kA/m peak, common metals. Source: evaluated from
// the same closed form, Davies & Simpson 1979.
TEST(SkinEffect, PowerInATwentyMillimetreRod) {
  const double rms_squared = 0.5 * 50e3 * 50e3;
  for (const auto& [metal, watt] : {std::pair{reference::Metal{1.724e-8}, 4513.714},
                                    {{2.82e-8}, 5748.489},
                                    {{6.2e-8}, 8443.442},
                                    {{72e-8}, 26717.228},
                                    {{16e-8, 100}, 138948.3},
                                    {{16e-8, 40}, 87646.99},
                                    {{110e-8}, 32138.35},
                                    {{122e-8}, 33586.19},
                                    {{1000e-8}, 53192.2}}) {
    expect_relative(axial_field({0, .01}, metal, 50e3, .7).power * rms_squared, watt, 1e-3);
  }
}

// Power per surface [W/cm^2] of the same rod and field: cold steel 140 to 220 (mu_r 40 to 100), hot
// steel 51, austenitic 43, brass 13, aluminium 9.1, copper 7.2, the figures above in round numbers.
// Source: the same closed form, Davies & Simpson 1979. Usual powers (from memory, no source named)
// are 50 to 200 W/cm^2 for heating through and 800 to 2500 W/cm^2 for hardening surfaces: this
// field is enough to heat hot steel through, and too weak to harden any metal.
TEST(SkinEffect, PowerPerSurfaceInPractice) {
  const double to_square_centimetre = 0.5 * 50e3 * 50e3 / (2 * reference::kPi * .01) / 1e4;
  for (const auto& [metal, watt] : {std::pair{reference::Metal{1.724e-8}, 7.2},
                                    {{2.82e-8}, 9.1},
                                    {{6.2e-8}, 13.},
                                    {{72e-8}, 43.},
                                    {{110e-8}, 51.},
                                    {{16e-8, 40}, 140.},
                                    {{16e-8, 100}, 220.}}) {
    const double found = axial_field({0, .01}, metal, 50e3).power * to_square_centimetre;
    expect_relative(found, watt, .04);
    expect_at_most(found, 800);
    if (metal.rho == 110e-8) expect_at_least(found, 50);
  }
}

// A thick face: the power per area is H^2 times rho / skin depth, lowered by half the skin depth
// over the radius; here 0.25 % at 200 skin depths. Source: first term of the same closed form,
// Davies & Simpson 1979.
TEST(SkinEffect, ThickFaceHasTheSurfaceResistance) {
  for (const reference::Metal& metal : {reference::Metal{1.724e-8}, {72e-8}, {16e-8, 100}}) {
    const double a = 200 * reference::skin_depth(metal, 50e3);
    const double per_area = axial_field({0, a}, metal, 50e3).power / (2 * reference::kPi * a);
    expect_relative(per_area, reference::surface_resistance(metal, 50e3) * (1 - 1. / 400), 1e-3);
  }
}

// Tube in an axial field: power, and the field left in its bore. Source: Bessel solution with rho
// H'(bore) = j w mu0 bore H/2, evaluated from the closed form (derivation, no published source
// read). A wall of 0.42 skin depths takes twice the power of the solid rod. A thin copper shell
// follows 1/(1 + j w mu0 a t/(2 rho)).
TEST(SkinEffect, TubeInAnAxialField) {
  const reference::Metal hot{110e-8};
  const double rms_squared = 0.5 * 50e3 * 50e3;
  for (const auto& [bore, watt, inside] :
       {std::tuple{.009, 64609.77, Complex{.24305558, -.45827397}},
        {.008, 42352.39, {.030256989, -.31129906}},
        {.006, 31751.71, {}},
        {.002, 32133.09, {}}}) {
    const Slice found = axial_field({bore, .010}, hot, 50e3, .5);
    const auto exact = reference::tube_in_axial_field({bore, .010}, hot.rho, 50e3, 1.0);
    SCOPED_TRACE(bore);
    expect_relative(found.power * rms_squared, watt, 1e-3);
    expect_within(found.bore_field, exact.bore_over_applied, 1e-3);
    if (inside != Complex{}) {
      expect_within(found.bore_field, inside, 1e-3);
    }
  }
  const Slice shell = axial_field({.0099, .010}, {1.724e-8}, 1e3);
  expect_within(shell.bore_field, Complex{.951118, -.215621}, 2e-3);
  expect_within(shell.bore_field, Complex{.95079565, -.21667451}, 5e-4);
}

/// Impedance of one ring of copper, mean radius `straight` times its section radius.
Complex ring_impedance(const reference::Tube& tube, double hertz, double straight) {
  Model model(
      ring_bodies({{straight * tube.outer, tube.outer}, 0, 1}, medium({1.724e-8}), tube.inner),
      {hertz, Sizing{}.scaled(.5)});
  return model.coil(TurnKind::massive).impedance;
}

// Round wire, x = sqrt(2) radius / skin depth, with a ring of 400 section radii in place of the
// wire (a ring of 100 still loses 1.3e-3 more, because its own field crosses it). Source: Kelvin's
// functions as tabulated in NBS Circular 74, Radio Instruments and Measurements, 1918 (from memory,
// table not looked up); E. B. Rosa & F. W. Grover, Formulas and tables for the calculation of
// mutual and self-inductance, Bull. Bur. Stand. 8 (1911) 1 (from memory); evaluated from the closed
// form. Resistance 1e-3; internal inductance, as the fall of L from its low-frequency value, 3e-3
// of that value.
TEST(SkinEffect, RoundWire) {
  const double a = .001;
  const double length = 2 * reference::kPi * 400 * a;
  const double low = hertz_for({1.724e-8}, 50 * a);
  const Complex direct = ring_impedance({0, a}, low, 400);
  for (const auto& [x, resistance, internal] : {std::tuple{.5, 1.00032544, .99983729},
                                                {1., 1.00518673, .99740753},
                                                {2., 1.07815875, .96113512},
                                                {3., 1.31809482, .84516653},
                                                {5., 2.04272506, .55596812},
                                                {10., 3.79857605, .28161929},
                                                {20., 7.32767235, .14127897},
                                                {50., 17.93031972, .05655981},
                                                {100., 35.60666471, .02828320}}) {
    const double hertz = hertz_for({1.724e-8}, std::sqrt(2.0) * a / x);
    const Complex z = ring_impedance({0, a}, hertz, 400);
    SCOPED_TRACE(x);
    expect_relative(z.real() / direct.real(), resistance, 1e-3);
    const double fall = inductance(direct, {low}) - inductance(z, {hertz});
    expect_within(1 - fall / (mu0 / (8 * reference::kPi) * length), internal, 3e-3);
  }
}

// Copper tube of 6 mm with 1 mm wall and its return outside. Source: H. B. Dwight, Skin effect in
// tubular and flat conductors, Trans. AIEE 37 (1918) 1379 (form from memory); evaluated from the
// closed form. A ring of 200 section radii stands for it: the field that its curvature causes in
// the bore then changes the loss by less than 1e-3. Resistance per metre and the fall of internal
// inductance from 1 kHz, 2e-3.
TEST(SkinEffect, StraightTube) {
  const reference::Tube tube{.002, .003};
  const double length = 2 * reference::kPi * 200 * tube.outer;
  const double first = inductance(ring_impedance(tube, 1e3, 200), {1e3}) / length;
  for (const auto& [hertz, mohm, nH] : {std::tuple{1e3, 1.10165154, 21.871333},
                                        {5e3, 1.19594033, 21.227733},
                                        {10e3, 1.44383350, 19.556234},
                                        {20e3, 2.04811335, 15.675904},
                                        {50e3, 3.26222680, 9.841083},
                                        {100e3, 4.53243110, 6.958123},
                                        {200e3, 6.34486539, 4.923167}}) {
    const Complex z = ring_impedance(tube, hertz, 200) / length;
    SCOPED_TRACE(hertz);
    expect_relative(z.real(), 1e-3 * mohm, 2e-3);
    expect_within(first - inductance(z, {hertz}), 1e-9 * (21.871333 - nH), 2e-3 * 21.871333e-9);
  }
}

/// Resistance of one metre of endless coil sheet per turn and metre: wall `thickness`, bore 1000
/// skin depths, no field outside, over that of a thick sheet.
double sheet_ratio(double thickness_over_depth) {
  const reference::Metal copper{1.724e-8};
  const double hertz = 50e3;
  const double depth = reference::skin_depth(copper, hertz);
  const double bore = 1000 * depth;
  const double outer = bore + thickness_over_depth * depth;
  const double height = 100 * depth;
  Model model({{"turn.1", rectangle({bore, 0}, {outer, height}), medium(copper)}},
              {hertz, Sizing{}.scaled(.5), Box{outer, 0, height}, kSlice});
  const double thick =
      reference::surface_resistance(copper, hertz) * 2 * reference::kPi * bore / height;
  return model.coil(TurnKind::massive).impedance.real() / thick;
}

// Best wall of a coil: a sheet with field on one side only, (sinh 2t + sin 2t)/(cosh 2t - cos 2t),
// has its least resistance 0.917 at pi/2 skin depths: the trade's "wall at least 1.6 skin depths".
// Source: the plane wall of the classical diffusion equation, evaluated from the closed form
// (derivation); V. Rudnev, Continuous and progressive hardening, part 2, heattreattoday.com (read).
TEST(SkinEffect, BestCoilWall) {
  double least = 1e9;
  double best = 0;
  for (const auto& [wall, ratio] : {std::pair{.5, 2.0110847},
                                    {1., 1.0856357},
                                    {1.3, .9454935},
                                    {reference::kPi / 2, .9171523},
                                    {2., .9489032},
                                    {3., 1.0033786}}) {
    const double found = sheet_ratio(wall);
    expect_relative(found, ratio, 2e-3);
    if (found < least) {
      least = found;
      best = wall;
    }
  }
  EXPECT_DOUBLE_EQ(best, reference::kPi / 2);
}

/// Loss per metre of a large ring that carries no net current, 1 A/m rms axially.
double open_ring_power(double section, const reference::Metal& metal, double hertz) {
  const double radius = 100 * section;
  Model model(ring_bodies({{radius, section}, 0, 1}, medium(metal)), {hertz, Sizing{}.scaled(.5)});
  FieldSolution field = model.respond(mu0 * uniform_field_source(model.system()));
  const Complex j_omega{0, model.frequency().omega()};
  const RegionId ring = model.region("turn.1");
  const Eigen::VectorXcd source = voltage_source(model.system(), ring).cast<Complex>();
  const Eigen::VectorXcd per_volt = model.system().solve(source).col(0);
  const auto current = [&](const Eigen::VectorXcd& potential) {
    return -j_omega * source.cwiseProduct(potential).sum();
  };
  const Complex volt = -current(model.system().to_unknowns(field.potential)) /
                       (loop_conductance(model.system(), ring) + current(per_volt));
  field.potential += volt * model.system().to_nodes(per_volt);
  field.loop_voltage[ring] = volt;
  return model.loss(field, "turn.1") / (2 * reference::kPi * radius);
}

// Round wire in a uniform transverse field, no net current: pi w mu0 a^2 H0^2 Im(I2/I0). Source: H.
// B. Dwight, Proximity effect in wires and thin tubes, Trans. AIEE 42 (1923) 850 (from memory);
// evaluated from the closed form. A large open ring in an axial field stands for it.
TEST(SkinEffect, WireInATransverseField) {
  const double a = .001;
  for (const auto& [ratio, kernel] : {std::pair{.5, .06205573},
                                      {1., .22441027},
                                      {2., .36930837},
                                      {3., .27782233},
                                      {5., .17951723},
                                      {10., .09493810}}) {
    const reference::Metal copper{1.724e-8};
    const double hertz = hertz_for(copper, a / ratio);
    const double exact = reference::kPi * 2 * reference::kPi * hertz * mu0 * a * a * 2 * kernel;
    SCOPED_TRACE(ratio);
    expect_relative(open_ring_power(a, copper, hertz), exact, 1e-3);
  }
}

/// Efficiency of an endless coil sheet of bore `coil` radius round a rod of radius `work` [m].
double long_coil_efficiency(double coil, double work, const reference::Metal& metal, double hertz) {
  const reference::Metal copper{1.8e-8};
  const double outer = coil + 6 * reference::skin_depth(copper, hertz);
  const double height = 1.2 * work;
  Model model({{"turn.1", rectangle({coil, 0}, {outer, height}), medium(copper)},
               {"workpiece", rectangle({0, 0}, {work, height}), medium(metal)}},
              {hertz, {}, Box{outer, 0, height}, kSlice});
  const SeriesCoil solved = model.coil(TurnKind::massive);
  return model.loss(solved.field, "workpiece") / solved.impedance.real();
}

// Long close coil with both skins thin: eta = 1/(1 + (Dc/Dw) sqrt(rho_c/(rho_w mu_r))), coil copper
// 1.8e-8 ohm m, within the 1 % that skins of 1/100 of the radius leave. Source: J. Davies & P.
// Simpson, Induction Heating Handbook, McGraw-Hill 1979 (from memory, page not looked up); S. Zinn
// & S. L. Semiatin, Elements of Induction Heating, ASM International 1988 (from memory, page not
// looked up).
TEST(SkinEffect, EfficiencyOfALongCoil) {
  const double work = .010;
  for (const auto& [metal, by_ratio] :
       {std::pair{reference::Metal{1.724e-8}, std::array{.4708, .4391, .3948, .3286}},
        {{2.82e-8}, {.5323, .5003, .4549, .3849}},
        {{8.5e-8}, {.6639, .6348, .5916, .5207}},
        {{6.2e-8}, {.6279, .5975, .5530, .4813}},
        {{72e-8}, {.8518, .8350, .8083, .7598}},
        {{16e-8, 40}, {.9449, .9378, .9263, .9041}},
        {{110e-8}, {.8767, .8621, .8390, .7963}}}) {
    constexpr std::array<double, 4> ratio{1.1, 1.25, 1.5, 2.0};
    for (std::size_t i = 0; i < ratio.size(); ++i) {
      const double thicker = std::max(metal.rho / metal.mu_r, 1.8e-8) * metal.mu_r;
      const double hertz = hertz_for({thicker, metal.mu_r}, work / 100);
      expect_relative(long_coil_efficiency(ratio[i] * work, work, metal, hertz), by_ratio[i], 1e-2);
    }
  }
}

// Bodies thinner than some four skin depths do not heat well: exact endless solenoid, hot steel,
// Dc/Dw = 1.25. Source: J. Davies & P. Simpson, Induction Heating Handbook, McGraw-Hill 1979 (from
// memory, page not looked up). The plane coil of its rule (evaluated from it) is corrected for its
// curvature, E/H = rho k K1(kR)/K0(kR) at its bore, which matters below 3 skin depths.
TEST(SkinEffect, ThinBodiesHeatBadly) {
  const double work = .010;
  const reference::Metal hot{110e-8};
  double last = 0;
  for (const auto& [ratio, plane] : {std::pair{1., .162510},
                                     {2., .583929},
                                     {3., .771099},
                                     {3.5, .805036},
                                     {4., .822040},
                                     {5., .834744},
                                     {8., .844844}}) {
    const double hertz = hertz_for(hot, 2 * work / ratio);
    const Complex k_bore = Complex{1, 1} * 1.25 * work / reference::skin_depth({1.8e-8}, hertz);
    const double curved =
        (Complex{1, 1} * reference::scaled_k(1, k_bore) / reference::scaled_k(0, k_bore)).real();
    const double found = long_coil_efficiency(1.25 * work, work, hot, hertz);
    SCOPED_TRACE(ratio);
    expect_relative(found, 1 / (1 + curved * (1 / plane - 1)), 2e-3);
    EXPECT_GT(found, last);
    last = found;
  }
}

}  // namespace
}  // namespace cw::published
