#include "solver/field/turns.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"
#include "solver/fem/triangle.hpp"
#include "tests/published/reference/loops.hpp"
#include "tests/unit/field/plain_box.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double copper = 58e6;  // [S/m]
constexpr reference::Torus torus{0.025, 0.003};
constexpr double pitch = 0.009;

/// Three rings of copper, or of strands that conduct nothing as the field sees them.
struct ThreeRings {
  Mesh mesh;
  EddySystem system;
  TurnSet turns;

  ThreeRings(TurnKind kind, std::vector<double> weight, bool with_bar = false)
      : mesh(make_mesh(with_bar)), system(mesh, media(kind, with_bar)) {
    turns.kind = kind;
    turns.weight = std::move(weight);
    turns.resistance = {1e-3, 2e-3, 3e-3};
    for (int k = 0; k < 3; ++k)
      turns.region.push_back(mesh.find_region("turn." + std::to_string(k + 1)));
  }

  static Mesh make_mesh(bool with_bar) {
    Section section;
    for (int k = 0; k < 3; ++k)
      section.regions.push_back({"turn." + std::to_string(k + 1),
                                 Disc{{torus.mean_radius, (k - 1) * pitch}, torus.section_radius},
                                 0.001});
    if (with_bar)
      section.regions.push_back({"workpiece", rectangle({0, -0.02}, {0.012, 0.02}), 0.001});
    return generate_mesh(section);
  }
  static Media media(TurnKind kind, bool with_bar) {
    Media media(with_bar ? 5 : 4, {kind == TurnKind::massive ? copper : 0.0});
    media[0] = {};
    if (with_bar) media[4] = {4e6, 0.05 / mu0};
    return media;
  }

  SeriesCoil in_series(Frequency f) {
    return connect_in_series(system, turns, solve_turns(system, turns, f));
  }

  /// Current of a massive ring [A]: sigma (V/(2 pi r) - j w A) over its section.
  [[nodiscard]] Complex current(const FieldSolution& field, RegionId ring) const {
    Complex sum = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      if (mesh.region[t] != ring) continue;
      for (const auto& s : potential_samples(mesh, t)) {
        Complex a = 0;
        for (int i = 0; i < 6; ++i) a += s.value[i] * field.potential[mesh.triangles[t][i]];
        sum += s.area * copper *
               (field.loop_voltage[ring] / (2 * pi * s.radius) -
                Complex{0, field.frequency.omega()} * a);
      }
    }
    return sum;
  }
};

// At 0.01 Hz massive rings have the resistance of closed rings of direct current, rho/(R - sqrt(R^2
// - a^2)), each for itself.
TEST(Turns, MassiveRingsAtDirectCurrent) {
  ThreeRings coil(TurnKind::massive, {1, 1, 1});
  const Eigen::MatrixXcd z = solve_turns(coil.system, coil.turns, {0.01}).impedance;
  const double wanted = reference::torus_resistance_solid(torus, 1 / copper);
  for (int k = 0; k < 3; ++k)
    for (int i = 0; i < 3; ++i)
      EXPECT_NEAR(z(k, i).real(), k == i ? wanted : 0, 1.5 * out_of_circle * wanted) << k << i;
}

// Rings of even current have the self and mutual inductances of tori (Neumann's formula averaged
// over the sections), and no resistance but the one they are given.
TEST(Turns, RingsOfStrandsHaveTheInductancesOfTori) {
  ThreeRings coil(TurnKind::uniform, {1, 1, 1});
  const Frequency f{1000};
  const Eigen::MatrixXcd z = solve_turns(coil.system, coil.turns, f).impedance;
  for (int k = 0; k < 3; ++k)
    for (int i = 0; i < 3; ++i) {
      const double wanted = k == i ? reference::torus_inductance(torus, reference::Spread::uniform)
                                   : reference::torus_mutual(torus, std::abs(k - i) * pitch);
      EXPECT_NEAR(z(k, i).imag() / f.omega(), wanted, 1e-3 * wanted) << k << i;
      EXPECT_NEAR(z(k, i).real(), k == i ? 1e-3 * (k + 1) : 0, 1e-12) << k << i;
    }
}

// What one ring does to another it does to the first: the impedances are symmetric, round a
// workpiece too, and so is a coil of mirrored rings.
TEST(Turns, Reciprocity) {
  for (const TurnKind kind : {TurnKind::massive, TurnKind::uniform}) {
    ThreeRings coil(kind, {1, 1, 1}, true);
    const Eigen::MatrixXcd z = solve_turns(coil.system, coil.turns, {10e3}).impedance;
    EXPECT_LT((z - z.transpose()).norm(), 1e-10 * z.norm());
    if (kind == TurnKind::uniform) continue;
    EXPECT_LT(std::abs(z(0, 0) - z(2, 2)), 1e-3 * std::abs(z(0, 0)));
    EXPECT_LT(std::abs(z(0, 1) - z(2, 1)), 1e-3 * std::abs(z(0, 1)));
  }
}

// In series every ring carries its weight of the terminals' 1 A, and the terminals have the sum of
// the voltages by weight.
TEST(Turns, InSeriesRingsCarryTheirWeight) {
  const std::vector<double> weight{1, 0.75, 0.5};
  ThreeRings coil(TurnKind::massive, weight, true);
  const SeriesCoil series = coil.in_series({10e3});
  Complex voltage = 0;
  for (int k = 0; k < 3; ++k) {
    EXPECT_LT(std::abs(coil.current(series.field, coil.turns.region[k]) - weight[k]), 1e-8) << k;
    voltage += weight[k] * series.turn_voltage[k];
  }
  EXPECT_LT(std::abs(voltage - series.impedance), 1e-12 * std::abs(voltage));
}

// Poynting's theorem: the impedance of the terminals is the loss of all bodies plus 2 j w times the
// energy, outside the open circle too, at 1 A.
TEST(Turns, ImpedanceIsLossAndEnergy) {
  for (const TurnKind kind : {TurnKind::massive, TurnKind::uniform}) {
    const std::vector<double> weight{1, 0.75, 0.5};
    ThreeRings coil(kind, weight, true);
    const Frequency f{10e3};
    const SeriesCoil series = coil.in_series(f);
    double loss = 0;
    for (const double watt : region_losses(coil.mesh, series.field)) loss += watt;
    if (kind == TurnKind::uniform)
      for (int k = 0; k < 3; ++k) loss += coil.turns.resistance[k] * weight[k] * weight[k];
    const double energy = magnetic_energy(coil.mesh, series.field) +
                          coil.system.open().exterior_energy(series.field.potential);
    EXPECT_NEAR(series.impedance.real(), loss, 1e-8 * loss);
    EXPECT_NEAR(series.impedance.imag(), 2 * f.omega() * energy, 1e-8 * series.impedance.imag());
  }
}

// Strands carry their weight of current spread evenly over the section as it is meshed.
TEST(Turns, StrandsCarryAnEvenCurrent) {
  ThreeRings coil(TurnKind::uniform, {1, 0.75, 0.5});
  const SeriesCoil series = coil.in_series({10e3});
  const double section = pi * torus.section_radius * torus.section_radius;
  for (int k = 0; k < 3; ++k) {
    const RegionId ring = coil.turns.region[k];
    EXPECT_NEAR(series.field.impressed[ring].real() * section, coil.turns.weight[k],
                1.5 * out_of_circle);
    EXPECT_EQ(series.field.loop_voltage[ring], Complex{});
  }
}

// At another current the field is as many times as strong, its phase turned; losses go with the
// square.
TEST(Turns, ScaledFieldIsThatOfAnotherCurrent) {
  ThreeRings coil(TurnKind::massive, {1, 1, 1}, true);
  const FieldSolution one = coil.in_series({10e3}).field;
  const FieldSolution other = scaled(one, Complex{3, 4});
  const Complex current = coil.current(other, coil.turns.region[1]);
  EXPECT_LT(std::abs(current - Complex{3, 4}), 1e-7);
  const auto before = region_losses(coil.mesh, one), after = region_losses(coil.mesh, other);
  for (std::size_t region = 0; region < before.size(); ++region)
    EXPECT_NEAR(after[region], 25 * before[region], 1e-10 * after[region]) << region;
  coil.turns.kind = TurnKind::uniform;
  const FieldSolution strands = coil.in_series({10e3}).field;
  EXPECT_EQ(scaled(strands, 2.0).impressed[1], 2.0 * strands.impressed[1]);
}

}  // namespace
}  // namespace cw
