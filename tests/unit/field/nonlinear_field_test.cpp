#include "solver/field/nonlinear_field.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "materials/library.hpp"
#include "mesh/generate.hpp"
#include "solver/field/gmres.hpp"
#include "solver/field/layering.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;

/// Four rings of copper round a bar with a separate shell.
struct Heater {
  Mesh mesh;
  Media media;
  TurnSet turns;
  RegionId core, shell;
  Frequency f;
};

Heater heater(Frequency f, double conductivity, double bar_depth,
              TurnKind kind = TurnKind::massive) {
  Heater h;
  Section s;
  h.f = f;
  h.turns.kind = kind;
  const double copper = kind == TurnKind::massive ? 5.8e7 : 0.0;
  for (int k = 0; k < 4; ++k) {
    s.regions.push_back({"turn." + std::to_string(k + 1),
                         Disc{{.019, (k - 1.5) * .0075}, .003, .002}, skin_depth(copper, 1, f)});
    h.turns.region.push_back(k + 1);
    h.turns.weight.push_back(k < 3 ? 1.0 : 0.75);
    h.turns.resistance.push_back(kind == TurnKind::massive ? 0.0 : 1e-3);
  }
  s.regions.push_back({"core", rectangle({0, -.03}, {.006, .03}), bar_depth});
  s.regions.push_back({"shell", rectangle({.006, -.03}, {.007, .03}), bar_depth});
  h.mesh = generate_mesh(s);
  h.media.assign(h.mesh.region_name.size(), {});
  for (int k = 1; k <= 4; ++k) h.media[k].conductivity = copper;
  h.core = 5;
  h.shell = 6;
  h.media[5] = h.media[6] = {conductivity, 1 / mu0};
  return h;
}

const EffectiveReluctivity& steel_law() {
  static const EffectiveReluctivity law(flux_curve(find_material("steel-low-carbon")),
                                        PermeabilityLaw::rms);
  return law;
}

SaturatingRegion body(RegionId region, const EffectiveReluctivity* law,
                      double magnetisation = 1.0) {
  return {region, law, magnetisation, {}};
}

std::vector<SaturatingRegion> steel_bar(const Heater& h) {
  return {body(h.core, &steel_law()), body(h.shell, &steel_law())};
}

double bar_loss(const Heater& h, const FieldSolution& field) {
  const std::vector<double> loss = region_losses(h.mesh, field);
  return loss[h.core] + loss[h.shell];
}

void expect_close(Complex value, Complex expected, double tolerance) {
  EXPECT_LT(std::abs(value - expected), tolerance * std::abs(expected))
      << value << " for " << expected;
}

// GMRES over the reals solves an operator that is not complex-linear: x + 0.5 conj(x) = b.
TEST(Gmres, SolvesARealLinearOperator) {
  const Eigen::VectorXcd b = Eigen::VectorXcd::Random(20);
  const auto apply = [](const Eigen::VectorXcd& v) {
    return Eigen::VectorXcd(v + 0.5 * v.conjugate());
  };
  const GmresOutcome outcome = gmres(apply, b, {1e-12, 10});
  EXPECT_LT((apply(outcome.x) - b).norm(), 1e-11 * b.norm());
  EXPECT_EQ(outcome.products, 2);  // two distinct eigenvalues, 1.5 and 0.5
}

// A law without saturation gives what the linear solver gives, massive turns and strands, part turn
// included.
TEST(NonlinearField, LinearLawIsTheLinearSolver) {
  const EffectiveReluctivity linear([](double b) { return 40 * mu0 * b; });
  for (const TurnKind kind : {TurnKind::massive, TurnKind::uniform}) {
    Heater h = heater({20e3}, 5e6, 1e-3, kind);
    EddySystem base(h.mesh, h.media);
    const NonlinearCoil found = solve_saturating(
        base, {body(h.core, &linear), body(h.shell, &linear)}, h.f, {h.turns, 200.0});
    h.media[h.core].reluctivity = h.media[h.shell].reluctivity = 1 / (40 * mu0);
    EddySystem system(h.mesh, h.media);
    const SeriesCoil expected =
        connect_in_series(system, h.turns, solve_turns(system, h.turns, h.f));
    expect_close(found.impedance, expected.impedance, 1e-6);
    EXPECT_NEAR(bar_loss(h, found.field), 4e4 * bar_loss(h, expected.field),
                1e-5 * 4e4 * bar_loss(h, expected.field));
    EXPECT_LE(found.report.steps, 2);
  }
}

// What is factorised and what the tangent has beyond it are the derivative of the residual, after
// the field and the frequency have moved on too.
TEST(NonlinearField, TangentIsTheDerivativeOfTheResidual) {
  const Heater h = heater({20e3}, 5e6, 3e-4);
  const EddySystem base(h.mesh, h.media);
  const SeriesDrive drive{h.turns, 1000.0};
  SaturatingSystem system(base, steel_bar(h), h.f, &drive);
  system.set_uniform({1 / (50 * mu0), 1 / (50 * mu0)});
  system.factorise();
  const Eigen::VectorXcd x = system.precondition(system.excitation());
  const Eigen::VectorXcd d = system.precondition(system.excitation().unaryExpr([](Complex v) {
    return Complex{0.3, 0.4} * v;
  }));
  const auto tangent = [&](const Eigen::VectorXcd& v) -> Eigen::VectorXcd {
    return v + system.precondition(system.remainder(v));
  };
  for (const double shift : {1.0, 1.1}) {
    system.move_to({shift * h.f.hertz}, drive);
    const Eigen::VectorXcd f = system.excitation();
    constexpr double e = 1e-4;
    const Eigen::VectorXcd difference =
        (system.residual(x + e * d, f) - system.residual(x - e * d, f)) / (2 * e);
    const Eigen::VectorXcd at_x = system.residual(x, f);
    system.linearise();
    const Eigen::VectorXcd found = tangent(d), expected = system.precondition(difference);
    EXPECT_LT((found - expected).norm(), 1e-4 * expected.norm()) << shift;
    // It must be neither complex-linear nor equal to the factorised matrix, or this would test
    // nothing.
    const Eigen::VectorXcd turned = tangent(Complex{0, 1} * d);
    EXPECT_GT((turned - Complex{0, 1} * found).norm(), 1e-2 * found.norm()) << shift;
    EXPECT_GT((found - d).norm(), 1e-2 * d.norm()) << shift;
  }
}

// Poynting's theorem holds at every point of the curve: I^2 Re Z is the sum of losses, I^2 Im Z is
// 2 w times the energy (Maxwell's equations; any textbook).
TEST(NonlinearField, ResistanceIsTheSumOfLossesAndReactanceIsTheEnergy) {
  const Heater h = heater({20e3}, 5e6, 3e-4);
  const EddySystem base(h.mesh, h.media);
  const NonlinearCoil coil = solve_saturating(base, steel_bar(h), h.f, {h.turns, 500.0});
  double loss = 0;
  for (const double w : region_losses(h.mesh, coil.field)) loss += w;
  const double energy =
      magnetic_energy(h.mesh, coil.field) + base.open().exterior_energy(coil.field.potential);
  EXPECT_NEAR(loss / (25e4 * coil.impedance.real()), 1.0, 1e-6);
  EXPECT_NEAR(2 * h.f.omega() * energy / (25e4 * coil.impedance.imag()), 1.0, 1e-6);
}

// Begun where it ended, it is there at once; for strands too.
TEST(NonlinearField, BegunWhereItEndedIsThereAtOnce) {
  for (const TurnKind kind : {TurnKind::massive, TurnKind::uniform}) {
    const Heater h = heater({20e3}, 5e6, 3e-4, kind);
    const EddySystem base(h.mesh, h.media);
    const SeriesDrive drive{h.turns, Complex{240.0, -180.0}};
    const NonlinearCoil found = solve_saturating(base, steel_bar(h), h.f, drive);
    SaturatingOptions again;
    again.start = &found;
    const NonlinearCoil there = solve_saturating(base, steel_bar(h), h.f, drive, again);
    expect_close(there.impedance, found.impedance, 1e-6);
    EXPECT_NEAR(bar_loss(h, there.field) / bar_loss(h, found.field), 1.0, 2e-6);
    EXPECT_LE(there.report.steps, 1);
    EXPECT_GE(found.report.steps, 2);
  }
}

// Power depends on the size of the current only, not on its phase; and it is not the square law.
TEST(NonlinearField, PhaseOfTheCurrentDoesNotMatter) {
  const Heater h = heater({20e3}, 5e6, 3e-4);
  const EddySystem base(h.mesh, h.media);
  const auto power = [&](Complex current) {
    return bar_loss(h, solve_saturating(base, steel_bar(h), h.f, {h.turns, current}).field);
  };
  const double straight = power(300.0);
  EXPECT_NEAR(power(std::polar(300.0, 2.1)) / straight, 1.0, 1e-6);
  EXPECT_LT(power(600.0), 3.5 * straight);
}

// Metal above its Curie point is non-magnetic metal, given as a whole or point by point.
TEST(NonlinearField, AboveTheCuriePointTheMetalIsNotMagnetic) {
  Heater h = heater({20e3}, 1e6, 3e-3);
  EddySystem base(h.mesh, h.media);
  const SeriesCoil expected = connect_in_series(base, h.turns, solve_turns(base, h.turns, h.f));
  const NonlinearCoil whole = solve_saturating(
      base, {body(h.core, &steel_law(), 0), body(h.shell, &steel_law(), 0)}, h.f, {h.turns, 300.0});
  expect_close(whole.impedance, expected.impedance, 1e-7);
  h.media[h.core] = h.media[h.shell] = {};
  const EddySystem air(h.mesh, h.media);
  const auto hot = [](const MeshPoint&) { return LocalMedium{1e6, 0.0}; };
  const NonlinearCoil points =
      solve_saturating(air, {{h.core, &steel_law(), 1, hot}, {h.shell, &steel_law(), 1, hot}}, h.f,
                       {h.turns, 300.0});
  expect_close(points.impedance, expected.impedance, 1e-7);
  EXPECT_NEAR(bar_loss(h, points.field) / (9e4 * bar_loss(h, expected.field)), 1.0, 1e-6);
}

// A hot non-magnetic skin over a magnetic core: properties given point by point give the same as
// two bodies, and a result between all cold and all hot.
TEST(NonlinearField, HotSkinOverAMagneticCore) {
  Heater h = heater({20e3}, 5e6, 3e-4);
  h.media[h.shell].conductivity = 9e5;
  const EddySystem two(h.mesh, h.media);
  const SeriesDrive drive{h.turns, 300.0};
  const NonlinearCoil bodies = solve_saturating(two, {body(h.core, &steel_law())}, h.f, drive);
  const auto local = [](const MeshPoint& p) {
    return p.at.r > .006 ? LocalMedium{9e5, 0.0} : LocalMedium{5e6, 1.0};
  };
  const NonlinearCoil points = solve_saturating(
      two, {{h.core, &steel_law(), 1, local}, {h.shell, &steel_law(), 1, local}}, h.f, drive);
  expect_close(points.impedance, bodies.impedance, 1e-6);
  const double found = bar_loss(h, points.field);
  const double cold = bar_loss(h, solve_saturating(two,
                                                   {{h.core, &steel_law(), 1,
                                                     [](const MeshPoint&) {
                                                       return LocalMedium{5e6, 1.0};
                                                     }},
                                                    {h.shell, &steel_law(), 1,
                                                     [](const MeshPoint&) {
                                                       return LocalMedium{5e6, 1.0};
                                                     }}},
                                                   h.f, drive)
                                      .field);
  const double hot = bar_loss(h, solve_saturating(two, {}, h.f, drive).field);
  EXPECT_GT(found, 1.05 * std::min(cold, hot));
  EXPECT_LT(found, std::max(cold, hot));
}

// From a solution nearby the way is shorter.
TEST(NonlinearField, AStartNearbySavesSteps) {
  const Heater h = heater({20e3}, 5e6, 3e-4);
  const EddySystem base(h.mesh, h.media);
  const NonlinearCoil first = solve_saturating(base, steel_bar(h), h.f, {h.turns, 500.0});
  const NonlinearCoil cold = solve_saturating(base, steel_bar(h), h.f, {h.turns, 520.0});
  SaturatingOptions options;
  options.start = &first;
  const NonlinearCoil warm =
      solve_saturating(base, steel_bar(h), h.f, SeriesDrive{h.turns, 520.0}, options);
  expect_close(warm.impedance, cold.impedance, 1e-6);
  EXPECT_LT(warm.report.steps, cold.report.steps);
  EXPECT_LT(warm.report.factorisations, cold.report.factorisations);
}

// Corners of the range (1 and 2000 A, 1 and 500 kHz, cold and half a kelvin from Curie) settle, and
// to 1e-6 in power: a hundred times tighter tolerance changes nothing beyond that.
TEST(NonlinearField, SettlesToOneInAMillionAtTheCornersOfTheRange) {
  for (const std::string name : {"steel-low-carbon", "nickel", "cast-iron-grey"}) {
    const Material m = find_material(name);
    const EffectiveReluctivity law(flux_curve(m), PermeabilityLaw::rms);
    for (const double hertz : {1e3, 5e5})
      for (const Temperature t :
           {Temperature::celsius(20), Temperature{m.magnetisation->curie.kelvin - 0.5}})
        for (const double current : {1.0, 2000.0}) {
          const double share = magnetisation_share(*m.magnetisation, t), sigma = m.conductivity(t);
          const Heater h = heater({hertz}, sigma,
                                  layering_skin_depth(law, share, sigma, {hertz},
                                                      solenoid_field(4 * current, .03, .038)));
          const EddySystem base(h.mesh, h.media);
          const std::vector<SaturatingRegion> bodies{body(h.core, &law, share),
                                                     body(h.shell, &law, share)};
          SaturatingOptions tight;
          tight.newton.tolerance = 1e-9;
          const SeriesDrive drive{h.turns, current};
          const NonlinearCoil coil = solve_saturating(base, bodies, h.f, drive);
          const NonlinearCoil exact = solve_saturating(base, bodies, h.f, drive, tight);
          SCOPED_TRACE(testing::Message() << name << ", " << hertz << " Hz, " << t.in_celsius()
                                          << " degC, " << current << " A");
          EXPECT_NEAR(bar_loss(h, coil.field) / bar_loss(h, exact.field), 1.0, 1e-6);
          EXPECT_LE(coil.report.factorisations, 12);
        }
  }
}

// When Newton's method may take no steps the search fails by name and gives nothing.
TEST(NonlinearField, FailureSaysWhichStep) {
  const Heater h = heater({20e3}, 5e6, 3e-4);
  const EddySystem base(h.mesh, h.media);
  SaturatingOptions options;
  options.newton.steps = 0;
  try {
    solve_saturating(base, steel_bar(h), h.f, SeriesDrive{h.turns, 500.0}, options);
    FAIL() << "no error";
  } catch (const SolveError& e) {
    EXPECT_NE(std::string(e.what()).find("did not settle"), std::string::npos) << e.what();
    EXPECT_NE(std::string(e.what()).find("20000 Hz"), std::string::npos) << e.what();
  }
}

}  // namespace
}  // namespace cw
