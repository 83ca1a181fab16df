// A coil round a long rod of linear metal: exact for filaments (Dodd & Deeds, J. Appl. Phys. 39,
// 1968, 2829), and in the thin-skin limit for copper tubes. Impedances are the same for rms and
// peak phasors.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/published/reference/proximity.hpp"
#include "tests/published/reference/sample_metals.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

using reference::kFiveRings;
constexpr double kRadius = .010;
constexpr std::array<reference::Metal, 8> kMetals{
    {{1.724e-8}, {2.82e-8}, {6.2e-8}, {72e-8}, {16e-8, 100}, {16e-8, 40}, {110e-8}, {1000e-8}}};

/// Rod of half this length: its ends are four coil radii beyond the coil and do not matter.
constexpr double kHalfLength = .018 + 4 * .025;

/// Change of impedance a rod makes to filament rings, found on one mesh with and without the rod.
Complex change_by_rod(const reference::RingRow& row, const reference::Rod& rod, double hertz,
                      double half_length) {
  // Rings of air round the filaments keep the mesh fine there.
  auto bodies = ring_bodies({{row.torus.mean_radius, .003}, row.pitch, row.count}, {});
  for (Body& ring : bodies) ring.largest_edge = .0015;
  bodies.push_back({"workpiece", rectangle({0, -half_length}, {rod.radius, half_length}),
                    medium(rod.metal), .004});
  Model loaded(bodies, {hertz, Sizing{}.scaled(.7)});
  Model empty = loaded.without({"workpiece"});
  const auto centres = ring_centres(row);
  return loaded.filaments(centres) - empty.filaments(centres);
}

// Five filament rings round a rod: resistance and inductance the rod adds, eight metals at three
// frequencies. Source: C. V. Dodd & W. E. Deeds, Analytical solutions to eddy-current probe-coil
// problems, J. Appl. Phys. 39 (1968) 2829 (form from memory), evaluated from the closed form. 2e-3
// of each; where the inductance passes through zero, of w L in the impedance.
TEST(RodInCoil, FilamentsRoundEightMetals) {
  for (const reference::Metal& metal : kMetals) {
    for (const double hertz : {10e3, 50e3, 100e3}) {
      const reference::Rod rod{kRadius, metal};
      const Complex exact = reference::filaments_round_rod(kFiveRings, rod, hertz);
      const Complex found = change_by_rod(kFiveRings, rod, hertz, kHalfLength);
      SCOPED_TRACE(testing::Message()
                   << metal.rho << " ohm m, mu_r " << metal.mu_r << ", " << hertz << " Hz");
      expect_relative(found.real(), exact.real(), 2e-3);
      expect_within(found.imag(), exact.imag(), 2e-3 * std::abs(exact));
    }
  }
}

// One filament ring round an aluminium rod, 50 kHz: 0.069177557 mohm and -5.1127194 nH; and a rod
// only two coil radii long is not long. Source: C. V. Dodd & W. E. Deeds, Analytical solutions to
// eddy-current probe-coil problems, J. Appl. Phys. 39 (1968) 2829 (form from memory), evaluated
// from the closed form.
TEST(RodInCoil, OneFilament) {
  const reference::RingRow one{{.025, .003}, .009, 1};
  const double hertz = 50e3;
  const reference::Rod rod{kRadius, {2.82e-8}};
  const Complex found = change_by_rod(one, rod, hertz, .1);
  expect_relative(found.real(), .069177557e-3, 2e-3);
  expect_relative(inductance(found, {hertz}), -5.1127194e-9, 2e-3);
  const Complex of_short_rod = change_by_rod(one, rod, hertz, .0125);
  EXPECT_GT(std::abs(of_short_rod - found), 2e-2 * std::abs(found));
}

// Against the short-coil rule, which its authors give as within 4 % in power. Source: J. T. Vaughan
// & J. W. Williamson, Design of induction-heating coils for cylindrical nonmagnetic loads, Trans.
// AIEE 64 (1945) 587 (from memory), as modified by M. W. Kennedy, S. Akhtar, J. A. Bakken & R. E.
// Aune, Empirical verification of a short-coil correction factor, IEEE Trans. Ind. Electron. 2014,
// doi 10.1109/TIE.2013.2281168 (abstract read, form from memory).
TEST(RodInCoil, ShortCoilRule) {
  for (const reference::Metal& metal : {reference::Metal{1.724e-8}, {2.82e-8}, {6.2e-8}}) {
    const double hertz = 50e3;
    const double rule =
        reference::short_coil_resistance({.050, 2 * kRadius, .045, 5}, metal, hertz);
    expect_relative(change_by_rod(kFiveRings, {kRadius, metal}, hertz, kHalfLength).real(), rule,
                    4e-2);
  }
}

/// Five rings of `copper` round a long rod: L, and the resistances of coil and work.
struct Loaded {
  double inductance, coil, work;
};

Loaded solve_loaded(const reference::Metal& copper, const reference::Metal& rod,
                    const Problem& problem) {
  auto bodies = ring_bodies(kFiveRings, medium(copper));
  bodies.push_back(
      {"workpiece", rectangle({0, -kHalfLength}, {kRadius, kHalfLength}), medium(rod)});
  Model model(bodies, problem);
  const SeriesCoil coil = model.coil(TurnKind::massive);
  // 1 A rms: losses in watt are resistances in ohm.
  const double work = model.loss(coil.field, "workpiece");
  return {inductance(coil.impedance, model.frequency()), coil.impedance.real() - work, work};
}

// A complete small problem on the default mesh: five copper rings of 6 mm round a long rod, nine
// metals at 50 and 100 kHz. Second method: boundary elements with a current sheet on the copper
// (proximity.hpp: evaluated twice by programs that share nothing, not published); the inductance
// inside the copper, R_coil/w, is added. L within 3e-3, work 1 %, efficiency 1 %. The copper loss
// must lie above the sheet's, and below (1 + d/2a) times it: this is the first correction for a
// current spread evenly round the section, while the part caused by the neighbours falls by as much
// (Im I2/I0 of skin.hpp).
TEST(RodInCoil, FiveCopperRingsRoundNineMetals) {
  const reference::Metal copper{1.724e-8};
  for (const reference::LoadedFigure& figure : reference::kLoadedRows) {
    const double hertz = 1e3 * figure.kilohertz;
    const Loaded found = solve_loaded(copper, figure.rod, {hertz});
    const double sheet = 1e-3 * figure.coil_mohm;
    const double even =
        1 + reference::skin_depth(copper, hertz) / (2 * kFiveRings.torus.section_radius);
    SCOPED_TRACE(testing::Message() << figure.metal << ", " << figure.kilohertz << " kHz");
    expect_relative(
        found.inductance,
        1e-9 * figure.external_inductance_nH + found.coil / (2 * reference::kPi * hertz), 3e-3);
    expect_relative(found.work, 1e-3 * figure.work_mohm, 1e-2);
    EXPECT_GT(found.coil, sheet);
    EXPECT_LT(found.coil, even * sheet);
    expect_within(found.work / (found.work + found.coil), figure.efficiency, 1e-2);
  }
}

// The same while the coil's resistivity falls at constant frequency, so that its skin depth goes to
// zero and the rod is unchanged: extrapolated, the solver reaches the current sheet. L and the work
// within 2e-3, coil 5e-3. Second method: the same boundary elements.
TEST(RodInCoil, CopperOfVanishingSkinReachesTheCurrentSheet) {
  for (const std::size_t i : {0U, 3U, 4U, 8U}) {
    const reference::LoadedFigure& figure = reference::kLoadedRows.at(i);
    const double hertz = 1e3 * figure.kilohertz;
    std::array<Loaded, 3> at{};
    for (std::size_t k = 0; k < at.size(); ++k) {
      const double thinner = std::pow(2.0, static_cast<double>(k + 1));  // skin depth over this
      at[k] =
          solve_loaded({1.724e-8 / (thinner * thinner)}, figure.rod, {hertz, Sizing{}.scaled(.5)});
      at[k].coil *= thinner;  // in units of the surface resistance of copper
    }
    const auto limit = [&](double Loaded::*x) {
      return (at[0].*x - 6 * (at[1].*x) + 8 * (at[2].*x)) / 3;
    };
    SCOPED_TRACE(figure.metal);
    expect_relative(limit(&Loaded::inductance), 1e-9 * figure.external_inductance_nH, 2e-3);
    expect_relative(limit(&Loaded::work), 1e-3 * figure.work_mohm, 2e-3);
    expect_relative(limit(&Loaded::coil), 1e-3 * figure.coil_mohm, 5e-3);
  }
}

}  // namespace
}  // namespace cw::published
