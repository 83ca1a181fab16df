// A coil round a long rod of linear metal: exact for filaments (Dodd & Deeds, J. Appl. Phys. 39,
// 1968, 2829), and in the thin-skin limit for copper tubes. Impedances are the same for rms and
// peak phasors.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/published/reference/proximity.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

constexpr reference::RingRow kFiveRings{{.025, .003}, .009, 5};
constexpr double kRadius = .010;
constexpr std::array<reference::Metal, 8> kMetals{
    {{1.724e-8}, {2.82e-8}, {6.2e-8}, {72e-8}, {16e-8, 100}, {16e-8, 40}, {110e-8}, {1000e-8}}};

/// Rod of half this length: its ends are four coil radii beyond the coil and do not matter.
constexpr double kHalfLength = .018 + 4 * .025;

/// Change of impedance a rod makes to filament rings, found on one mesh with and without the rod.
Complex change_by_rod(const reference::RingRow& row, const reference::Rod& rod, double hertz, double half_length) {
  // Rings of air round the filaments keep the mesh fine there.
  auto bodies = ring_bodies({{row.torus.mean_radius, .003}, row.pitch, row.count}, {});
  for (Body& ring : bodies) ring.largest_edge = .0015;
  bodies.push_back({"workpiece", rectangle({0, -half_length}, {rod.radius, half_length}), medium(rod.metal)});
  Model loaded(bodies, {hertz, Sizing{}.scaled(.7)});
  Model empty = loaded.without({"workpiece"});
  const auto centres = ring_centres(row);
  return loaded.filaments(centres) - empty.filaments(centres);
}

// Five filament rings round a rod: resistance and inductance the rod adds, eight metals at three
// frequencies. 2e-3 of each; where the inductance passes through zero, of w L in the impedance.
TEST(RodInCoil, FilamentsRoundEightMetals) {
  for (const reference::Metal& metal : kMetals) {
    for (const double hertz : {10e3, 50e3, 100e3}) {
      const reference::Rod rod{kRadius, metal};
      const Complex exact = reference::filaments_round_rod(kFiveRings, rod, hertz);
      const Complex found = change_by_rod(kFiveRings, rod, hertz, kHalfLength);
      SCOPED_TRACE(testing::Message() << metal.rho << " ohm m, mu_r " << metal.mu_r << ", " << hertz << " Hz");
      expect_relative(found.real(), exact.real(), 2e-3);
      EXPECT_NEAR(found.imag(), exact.imag(), 2e-3 * std::abs(exact)) << found.imag() / exact.imag() - 1;
    }
  }
}

// One filament ring round an aluminium rod, 50 kHz: 0.069177557 mohm and -5.1127194 nH, evaluated
// from the closed form of Dodd & Deeds 1968; and a rod only two coil radii long is not long.
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

// Against the rule of Vaughan & Williamson (Trans. AIEE 64, 1945) as modified by Kennedy, Akhtar,
// Bakken & Aune (form from memory), which its authors give as within 4 % in power.
TEST(RodInCoil, ShortCoilRule) {
  for (const reference::Metal& metal : {reference::Metal{1.724e-8}, {2.82e-8}, {6.2e-8}}) {
    const double hertz = 50e3;
    const double rule = reference::short_coil_resistance({.050, 2 * kRadius, .045, 5}, metal, hertz);
    expect_relative(change_by_rod(kFiveRings, {kRadius, metal}, hertz, kHalfLength).real(), rule, 4e-2);
  }
}

// The whole product in small: five copper rings of 6 mm round a long rod, nine metals at 50 and 100
// kHz. The figures are for a current sheet on the copper (proximity.hpp: evaluated twice by programs
// that share nothing, not published); at finite skin depth d R_coil grows by (1 + d/2a) and the
// inductance by R_coil/w. L within 3e-3, work 1 %, coil 2 %, efficiency 1 %.
TEST(RodInCoil, FiveCopperRingsRoundNineMetals) {
  const reference::Metal copper{1.724e-8};
  const double a = kFiveRings.torus.section_radius;
  for (const reference::LoadedFigure& figure : reference::kLoadedRows) {
    const double hertz = 1e3 * figure.kilohertz;
    auto bodies = ring_bodies(kFiveRings, medium(copper));
    bodies.push_back({"workpiece", rectangle({0, -kHalfLength}, {kRadius, kHalfLength}), medium(figure.rod)});
    Model model(bodies, {hertz});
    const SeriesCoil coil = model.coil(TurnKind::massive);
    // 1 A rms: losses in watt are resistances in ohm.
    const double work = model.loss(coil.field, "workpiece");
    const double copper_loss = coil.impedance.real() - work;
    const double expected = 1e-3 * figure.coil_mohm * (1 + reference::skin_depth(copper, hertz) / (2 * a));
    SCOPED_TRACE(testing::Message() << figure.metal << ", " << figure.kilohertz << " kHz");
    expect_relative(inductance(coil.impedance, {hertz}),
                    1e-9 * figure.external_inductance_nH + expected / (2 * reference::kPi * hertz), 3e-3);
    expect_relative(work, 1e-3 * figure.work_mohm, 1e-2);
    expect_relative(copper_loss, expected, 2e-2);
    EXPECT_NEAR(work / coil.impedance.real(), 1e-3 * figure.work_mohm / (1e-3 * figure.work_mohm + expected), 1e-2);
  }
}

}  // namespace
}  // namespace cw::published
