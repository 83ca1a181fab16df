// Coils in air against closed forms. Impedances are the same for rms and peak phasors; fields are
// for the current stated.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <tuple>

#include "tests/published/reference/proximity.hpp"
#include "tests/published/reference/sample_metals.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

using reference::kFiveRings;

double air_inductance(const reference::RingRow& row, const Problem& problem) {
  Model model(ring_bodies(row, {}), problem);
  return inductance(model.coil(TurnKind::uniform).impedance, model.frequency());
}

// Mutual inductance of coaxial loops: the potential a filament causes at the other's place. Source:
// J. C. Maxwell, A Treatise on Electricity and Magnetism, 1873, art. 701; NIST Digital Library of
// Mathematical Functions, 19.34 (read); the first three are worked examples of E. B. Rosa & F. W.
// Grover, Formulas and tables for the calculation of mutual and self-inductance, Bull. Bur. Stand.
// 8 (1911) 1, among the examples from p. 20 on (from memory 1036.66, -, 248.79 nH). A ring of air
// keeps the mesh fine there.
TEST(AirCoils, MutualInductanceOfCoaxialLoops) {
  for (const auto& [r1, r2, z] : {std::tuple{.250, .250, .010},
                                  {.250, .250, .040},
                                  {.250, .200, .100},
                                  {.250, .250, .200},
                                  {.025, .025, .009},
                                  {.030, .020, .010},
                                  {.050, .020, .0}}) {
    const double gap = std::hypot(r1 - r2, z);
    const double around = 0.3 * std::min(gap, r2);
    Model model({{"first", Disc{{r1, 0}, around, 0}, {}, around / 3},
                 {"second", Disc{{r2, z}, around, 0}, {}, around / 3}},
                {50, Sizing{}.scaled(.35)});
    const Eigen::VectorXd other = filament_source(model.system(), {r2, z});
    const FieldSolution field = model.respond(filament_source(model.system(), {r1, 0}));
    const double flux = model.system().to_unknowns(field.potential).real().dot(other);
    expect_relative(flux, reference::mutual_inductance(r1, r2, z), 1e-3);
  }
}

/// Inductance of a cylindrical coil, one turn of uniform current; `half` of its radial thickness
/// [m].
double cylinder(double radius, double length, double half) {
  const double edge = std::min(.0008, length / 80);
  Model model(
      {{"turn.1", rectangle({radius - half, -length / 2}, {radius + half, length / 2}), {}, edge}},
      {50});
  return inductance(model.coil(TurnKind::uniform).impedance, model.frequency());
}

// Cylindrical current sheets: coils of two thicknesses extrapolated to none give Nagaoka's
// coefficient (exact elliptic form) and Lundin's fit of it, within 2.5e-6. Source: H. Nagaoka, The
// inductance coefficients of solenoids, J. Coll. Sci. Imp. Univ. Tokyo 27 (1909) art. 6; R. Lundin,
// A handbook formula for the inductance of a single-layer circular coil, Proc. IEEE 73 (1985) 1428
// (form from memory).
TEST(AirCoils, CurrentSheets) {
  for (const double diameter_over_length : {0.25, 0.5, 1.0, 2.0, 5.0}) {
    const double radius = .025;
    const double length = 2 * radius / diameter_over_length;
    const double thin = cylinder(radius, length, .004 * radius);
    const double thick = cylinder(radius, length, .008 * radius);
    const double sheet = mu0 * reference::kPi * radius * radius / length;
    SCOPED_TRACE(diameter_over_length);
    expect_relative(2 * thin - thick, reference::nagaoka(diameter_over_length) * sheet, 3e-4);
    expect_relative(2 * thin - thick, reference::lundin(diameter_over_length) * sheet, 3e-4);
    EXPECT_LT(thick, thin);
  }
}

// Thick windings, the coil sizes of Burke's probes A and B. Source: C. V. Dodd & W. E. Deeds,
// Analytical solutions to eddy-current probe-coil problems, J. Appl. Phys. 39 (1968) 2829 (form
// from memory), evaluated from the closed form: 225.9879 mH and 3.985159 mH; sizes of S. K. Burke,
// A benchmark problem for computation of delta Z in eddy-current nondestructive evaluation, J.
// Nondestr. Eval. 7 (1988) 35 (from memory).
TEST(AirCoils, ThickWindings) {
  for (const auto& [coil, henry] :
       {std::pair{reference::ThickCoil{.00615, .0124, .00615, 3790}, 225.9879e-3},
        {reference::ThickCoil{.00934, .0184, .009, 408}, 3.985159e-3}}) {
    Model model({{"turn.1", rectangle({coil.inner, 0}, {coil.outer, coil.length})}},
                {50, Sizing{}.scaled(.35)});
    const double one = inductance(model.coil(TurnKind::uniform).impedance, model.frequency());
    expect_relative(one * coil.turns * coil.turns, henry, 1e-4);
  }
}

// One ring of strands. Source: Neumann's formula, F. E. Neumann, Abh. Preuss. Akad. Wiss. 1845
// (from memory), averaged twice over the section (evaluated from the closed form; Rayleigh and
// Niven's series in E. B. Rosa & F. W. Grover, Formulas and tables for the calculation of mutual
// and self-inductance, Bull. Bur. Stand. 8 (1911) 1, is 3e-7 from it at a/R = 0.12).
TEST(AirCoils, OneRingOfUniformCurrent) {
  for (const auto& [radius, section, nH] : {std::tuple{.025, .003, 77.21612},
                                            {.025, .001, 111.50906},
                                            {.050, .003, 197.61899},
                                            {.100, .025, 219.33698}}) {
    expect_relative(air_inductance({{radius, section}, .009, 1}, {50, Sizing{}.scaled(.5)}),
                    1e-9 * nH, 1e-4);
  }
}

// One solid ring at direct current, density ~ 1/r. Source: inductance by Neumann's formula, F. E.
// Neumann, Abh. Preuss. Akad. Wiss. 1845 (from memory), with that density; resistance 1/(sigma (R -
// sqrt(R^2 - a^2))), for a tube sqrt(R^2 - b^2) instead of R: both exact (derivation, no published
// source), evaluated from the closed forms, annealed copper of 5.8e7 S/m.
TEST(AirCoils, SolidRingsAndTubesAtDirectCurrent) {
  const Medium copper{5.8e7, 1 / mu0};
  for (const auto& [radius, section, bore, nH, ohm] :
       {std::tuple{.025, .003, .0, 76.81568, 95.439363e-6},
        {.025, .001, .0, 111.45084, 861.72400e-6},
        {.050, .003, .0, 197.37987, 191.39831e-6},
        {.100, .025, .0, 213.79189, 5.4296437e-6},
        {.025, .003, .002, .0, 171.514548e-6}}) {
    Model model(ring_bodies({{radius, section}, .009, 1}, copper, bore),
                {1e-3, Sizing{}.scaled(.5)});
    const Complex z = model.coil(TurnKind::massive).impedance;
    expect_relative(z.real(), ohm, 1e-5);
    if (nH > 0) expect_relative(inductance(z, model.frequency()), 1e-9 * nH, 1e-4);
  }
}

// The five-ring coil in empty space with the mesh ending near it: within 1e-4 for domains of 2 to 4
// coil radii. Source: torus self inductances and section-averaged mutual ones by Neumann's formula,
// F. E. Neumann, Abh. Preuss. Akad. Wiss. 1845 (from memory).
TEST(AirCoils, FiveRingsInEmptySpace) {
  for (const auto& [count, nH] : {std::pair{1, 77.21612}, {3, 417.0085}, {5, 852.8808}}) {
    reference::RingRow row = kFiveRings;
    row.count = count;
    expect_relative(air_inductance(row, {50, Sizing{}.scaled(.7)}), 1e-9 * nH, 1e-4);
  }
  for (const double domain : {2.0, 3.0, 4.0}) {
    const Problem problem{50, {}, OpenSpace{0, domain * .025}};
    expect_relative(air_inductance(kFiveRings, problem), 852.8808e-9, 1e-4);
  }
}

/// Inductance and loss factor R/(N Rs R/a) of a row of solid copper rings with the skin depth
/// `ratio` of their section radius.
std::pair<double, double> thin_skin(const reference::RingRow& row, double ratio) {
  const reference::Metal copper{1.724e-8};
  const double a = row.torus.section_radius;
  const double hertz = copper.rho / (reference::kPi * mu0 * a * a * ratio * ratio);
  Model model(ring_bodies(row, medium(copper)), {hertz, Sizing{}.scaled(.5)});
  const Complex z = model.coil(TurnKind::massive).impedance;
  const double sheet = row.count * copper.rho / (a * ratio) * row.torus.mean_radius / a;
  return {inductance(z, model.frequency()), z.real() / sheet};
}

// Frequency rising without bound: inductance and resistance of massive rings, extrapolated to no
// skin depth by a parabola through skin depths of 1/25, 1/50 and 1/100 of the section radius, reach
// the ideally conducting rings. Second method: boundary elements, two programs that share nothing
// (proximity.hpp); not published. The torus of one ring is treated by H. Essen, J. Sten & A. B.
// Nordmark, Magnetic energy of surface currents on a torus, PIER B 46 (2013) 357 (abstract read,
// its figures not).
TEST(AirCoils, RingsReachThePerfectConductor) {
  for (const reference::RowFigure& figure : reference::kThinSkinRows) {
    const reference::RingRow row{{1e-3 * figure.mean_radius_mm, 1e-3 * figure.section_radius_mm},
                                 1e-3 * figure.pitch_mm,
                                 figure.count};
    const auto [l1, r1] = thin_skin(row, 1. / 25);
    const auto [l2, r2] = thin_skin(row, 1. / 50);
    const auto [l3, r3] = thin_skin(row, 1. / 100);
    const auto limit = [](double x1, double x2, double x3) { return (x1 - 6 * x2 + 8 * x3) / 3; };
    SCOPED_TRACE(testing::Message()
                 << figure.count << " rings of " << figure.mean_radius_mm << " x "
                 << figure.section_radius_mm << " mm, pitch " << figure.pitch_mm);
    expect_relative(limit(l1, l2, l3), 1e-9 * figure.inductance_nH, 1e-3);
    expect_relative(limit(r1, r2, r3), figure.loss_factor, 1e-2);
    // Finite skin: more of both.
    EXPECT_GT(l1, l2);
    EXPECT_GT(r1, r2);
  }
}

// Flux density on the axis, 100 A: a loop (Biot and Savart, mu0 I R^2/(2 (R^2 + z^2)^1.5)) of 25 mm
// gives 2.5132741 mT at its centre and 1.1966691 mT 20 mm off; five of them 9 mm apart 9.3866030 mT
// at their middle. Source: S. J. Ling, J. Sanny & W. Moebs, University Physics Volume 2, OpenStax
// 2016, section 12.4 (read); evaluated from it. Thin wires stand for the filaments; a region of air
// keeps the mesh fine where the field is read.
TEST(AirCoils, FieldOnTheAxis) {
  const Body window{"window", rectangle({0, -.03}, {.003, .03}), {}, .0004};
  for (const auto& [count, z, tesla] :
       {std::tuple{1, .0, 2.5132741e-3}, {1, .02, 1.1966691e-3}, {5, .0, 9.3866030e-3}}) {
    auto bodies = ring_bodies({{.025, .0002}, .009, count}, {});
    bodies.push_back(window);
    Model model(bodies, {50, Sizing{}.scaled(.5)});
    const FieldSolution field = scaled(model.coil(TurnKind::uniform).field, 100.0);
    expect_relative(probe(model.mesh(), field, {0, z}).flux_z.real(), tesla, 1e-4);
  }
}

}  // namespace
}  // namespace cw::published
