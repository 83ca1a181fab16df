// What every field must satisfy whatever the bodies are: no outside data. The laws are Maxwell's
// (A Treatise on Electricity and Magnetism, 1873; J. D. Jackson, Classical Electrodynamics, 3rd
// ed., Wiley 1999, chapters 5 and 6).
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "tests/published/reference/sample_metals.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

using reference::kCopper;
using reference::kFiveRings;
constexpr double kHertz = 50e3;

std::vector<Body> heater(const reference::Metal& work, double scale = 1.0) {
  reference::RingRow row = kFiveRings;
  row.torus = {scale * row.torus.mean_radius, scale * row.torus.section_radius};
  row.pitch *= scale;
  auto bodies = ring_bodies(row, medium(kCopper), scale * .002);
  bodies.push_back(
      {"workpiece", rectangle({0, -scale * .03}, {scale * .01, scale * .03}), medium(work)});
  return bodies;
}

double total(const std::vector<double>& parts) {
  double sum = 0;
  for (const double x : parts) sum += x;
  return sum;
}

// Identity: flux linkage per ampere of a coil of strands is twice its energy per square ampere,
// with the energy of the outer space counted.
TEST(Identities, InductanceFromFluxLinkageIsTwiceTheEnergy) {
  Model model(ring_bodies(kFiveRings, {}), {kHertz});
  const SeriesCoil coil = model.coil(TurnKind::uniform);
  expect_relative(2 * model.energy(coil.field), inductance(coil.impedance, model.frequency()),
                  1e-9);
  EXPECT_NEAR(coil.impedance.real(), 0.0, 1e-9 * coil.impedance.imag());
}

// Identity: I^2 Re Z is the Joule loss of all bodies together and I^2 Im Z is 2 w times the energy:
// the two halves of Poynting's theorem for the whole space, to rounding, because losses and
// impedance come from the same matrix.
TEST(Identities, ResistanceIsTheSumOfLossesAndReactanceIsTheEnergy) {
  for (const reference::Metal& work : {reference::Metal{2.82e-8}, {16e-8, 40}, {1000e-8}}) {
    Model model(heater(work), {kHertz});
    const SeriesCoil coil = model.coil(TurnKind::massive);
    expect_relative(total(region_losses(model.mesh(), coil.field)), coil.impedance.real(), 1e-7);
    expect_relative(2 * model.frequency().omega() * model.energy(coil.field), coil.impedance.imag(),
                    1e-7);
  }
}

/// Real power [W] through a closed box round the axis, outwards, from the field in the air on it.
double power_through_box(const Mesh& mesh, const FieldSolution& field, double radius,
                         double half_length) {
  const auto& rule = reference::gauss_rule(20);
  const auto outwards = [&](Point p, Point normal) {
    const FieldPoint f = probe(mesh, field, p);
    const Complex electric = Complex{0, -field.frequency.omega()} * f.potential;
    // E_phi e_phi x conj(H): radial part E conj(H_z), axial part -E conj(H_r).
    return std::real(electric * std::conj(f.flux_z * normal.r - f.flux_r * normal.z)) / mu0;
  };
  double power = 0;
  constexpr int panels = 6;
  for (int k = 0; k < panels; ++k) {
    for (std::size_t q = 0; q < rule.node.size(); ++q) {
      const double x = (k + rule.node[q]) / panels;
      const double w = rule.weight[q] / panels;
      const double z = half_length * (2 * x - 1);
      power += w * 2 * half_length * 2 * reference::kPi * radius * outwards({radius, z}, {1, 0});
      for (const double side : {-1.0, 1.0}) {
        power += w * radius * 2 * reference::kPi * x * radius *
                 outwards({x * radius, side * half_length}, {0, side});
      }
    }
  }
  return power;
}

// Identity: Poynting's theorem, the power that enters a surface in the air round the workpiece is
// the heat made in it.
TEST(Identities, PowerThroughASurfaceRoundTheWorkpieceIsItsLoss) {
  Model model(heater({2.82e-8}), {kHertz, Sizing{}.scaled(0.35)});
  const SeriesCoil coil = model.coil(TurnKind::massive);
  expect_relative(-power_through_box(model.mesh(), coil.field, .016, .036),
                  model.loss(coil.field, "workpiece"), 5e-3);
}

// Identity: nothing radiates in a quasi-static field. Just inside the open circle the complex power
// that passes outwards is purely reactive, and it is 2 w times the energy of the outer space.
TEST(Identities, OnlyReactivePowerPassesTheOpenCircle) {
  Model model(heater({72e-8}), {kHertz, Sizing{}.scaled(0.35), OpenSpace{0, .06}});
  const FieldSolution field = model.coil(TurnKind::massive).field;
  Complex power = 0;
  const auto& rule = reference::gauss_rule(60);
  const double radius = .0599;
  for (std::size_t q = 0; q < rule.node.size(); ++q) {
    const double theta = reference::kPi * rule.node[q];
    const Point out{std::sin(theta), std::cos(theta)};
    const FieldPoint f = probe(model.mesh(), field, radius * out);
    const Complex tangential = (f.flux_z * out.r - f.flux_r * out.z) / mu0;
    const Complex electric = Complex{0, -field.frequency.omega()} * f.potential;
    power += electric * std::conj(tangential) * rule.weight[q] * 2.0 * reference::kPi *
             reference::kPi * radius * radius * out.r;
  }
  const double outside = model.system().open().exterior_energy(field.potential);
  expect_relative(power.imag(), 2 * field.frequency.omega() * outside, 1e-2);
  EXPECT_NEAR(power.real(), 0.0, 1e-3 * std::abs(power));
  // The field there is not simply in phase, or the check would be empty.
  const Complex a = probe(model.mesh(), field, {radius, 0}).potential;
  EXPECT_GT(std::abs(a.imag()), 1e-3 * std::abs(a.real()));
}

// Identity: reciprocity, ring i induces in ring j what j induces in i, with different rings and a
// workpiece off centre in the way.
TEST(Identities, TurnImpedancesAreReciprocal) {
  std::vector<Body> bodies{{"turn.1", Disc{{.02, -.01}, .002, 0}, medium(kCopper)},
                           {"turn.2", Disc{{.03, .002}, .003, .002}, medium(kCopper)},
                           {"turn.3", rectangle({.022, .008}, {.028, .012}), medium(kCopper)},
                           {"workpiece", rectangle({0, -.02}, {.012, .005}), medium({16e-8, 40})}};
  Model model(bodies, {20e3});
  const TurnResponse response =
      solve_turns(model.system(), model.turns(TurnKind::massive), model.frequency());
  const Eigen::MatrixXcd& z = response.impedance;
  EXPECT_LT((z - z.transpose()).norm(), 1e-11 * z.norm());
  for (int i = 0; i < 3; ++i) {
    for (int k = 0; k < i; ++k) EXPECT_GT(std::abs(z(i, k)), 1e-3 * std::abs(z(i, i)));
  }
}

// Property: a non-magnetic metal pushes flux out, so it lowers the inductance and adds resistance;
// steel of high permeability at low frequency draws it in and raises the inductance.
TEST(Identities, WorkpieceLowersInductanceUnlessItIsMagnetic) {
  for (const reference::Metal& work : {kCopper, reference::Metal{72e-8}, {1000e-8}}) {
    Model loaded(heater(work), {kHertz});
    const SeriesCoil with = loaded.coil(TurnKind::massive);
    const SeriesCoil empty = loaded.without({"workpiece"}).coil(TurnKind::massive);
    EXPECT_LT(with.impedance.imag(), empty.impedance.imag());
    EXPECT_GT(with.impedance.real(), empty.impedance.real());
    EXPECT_GT(loaded.loss(with.field, "workpiece"), 0.0);
  }
  Model steel(heater({16e-8, 100}), {1e3});
  EXPECT_GT(steel.coil(TurnKind::massive).impedance.imag(),
            steel.without({"workpiece"}).coil(TurnKind::massive).impedance.imag());
}

// Identity: only sigma f enters. Twice the conductivity at half the frequency leaves the shape of
// the field unchanged, halves the impedance over w and leaves the inductance unchanged.
TEST(Identities, TwiceTheConductivityAtHalfTheFrequencyIsTheSameField) {
  Model model(heater({16e-8, 40}), {kHertz});
  const SeriesCoil first = model.coil(TurnKind::massive);
  Media media = model.system().media();
  for (Medium& m : media) m.conductivity *= 2;
  EddySystem system(model.mesh(), media);
  const TurnSet turns = model.turns(TurnKind::massive);
  const SeriesCoil second =
      connect_in_series(system, turns, solve_turns(system, turns, {kHertz / 2}));
  EXPECT_LT((first.field.potential - second.field.potential).norm(),
            1e-9 * first.field.potential.norm());
  EXPECT_LT(std::abs(second.impedance * 2.0 - first.impedance), 1e-9 * std::abs(first.impedance));
}

// Identity: geometry times s with frequency over s^2, L grows by s, R falls by s. Powers of two are
// exact in binary, so the mesh is the same and the law holds to rounding; other factors may give
// another triangulation and then differ by the error of the mesh.
TEST(Identities, ScalingTheGeometryScalesInductanceAndResistance) {
  Model model(heater({72e-8}), {kHertz});
  const SeriesCoil first = model.coil(TurnKind::massive);
  for (const auto& [s, tolerance] :
       {std::pair{0.125, 1e-9}, {16.0, 1e-9}, {1e-3, 5e-4}, {1e3, 5e-4}}) {
    Model other(heater({72e-8}, s), {kHertz / (s * s)});
    const SeriesCoil second = other.coil(TurnKind::massive);
    expect_relative(inductance(second.impedance, other.frequency()),
                    s * inductance(first.impedance, model.frequency()), tolerance);
    expect_relative(second.impedance.real(), first.impedance.real() / s, tolerance);
  }
}

// Property: the outer space is exact, so the position of the open circle changes only the mesh.
TEST(Identities, MovingTheOpenCircleChangesNothing) {
  Model near(heater({2.82e-8}), {kHertz, Sizing{}.scaled(0.5), OpenSpace{0, .05}});
  const SeriesCoil reference_coil = near.coil(TurnKind::massive);
  for (const OpenSpace space : {OpenSpace{0, .1}, OpenSpace{0, .25}, OpenSpace{.02, .12}}) {
    Model other(heater({2.82e-8}), {kHertz, Sizing{}.scaled(0.5), space});
    const SeriesCoil coil = other.coil(TurnKind::massive);
    expect_relative(coil.impedance.imag(), reference_coil.impedance.imag(), 1e-4);
    expect_relative(coil.impedance.real(), reference_coil.impedance.real(), 1e-4);
    expect_relative(other.loss(coil.field, "workpiece"),
                    near.loss(reference_coil.field, "workpiece"), 1e-4);
  }
}

}  // namespace
}  // namespace cw::published
