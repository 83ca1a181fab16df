// How fast the error falls as the mesh is refined, and how large it is. A test of the slope alone
// would pass with any error, a test of the size alone with any element. Slopes are least squares in
// log(error) against log(size).
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "solver/fem/triangle.hpp"
#include "tests/published/reference/bessel.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

constexpr std::array<double, 4> kSizes{1.0, 0.7, 0.5, 0.35};

double slope(const std::vector<double>& sizes, const std::vector<double>& errors) {
  double mx = 0, my = 0, xx = 0, xy = 0;
  const auto n = static_cast<double>(sizes.size());
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    mx += std::log(sizes[i]) / n;
    my += std::log(std::abs(errors[i])) / n;
  }
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const double x = std::log(sizes[i]) - mx;
    xx += x * x;
    xy += x * (std::log(std::abs(errors[i])) - my);
  }
  return xy / xx;
}

double slope_over_sizes(const std::array<double, 4>& errors) {
  return slope({kSizes.begin(), kSizes.end()}, {errors.begin(), errors.end()});
}

constexpr reference::Metal kCopper{1.724e-8};
constexpr double kRadius = .010;

/// Endless copper cylinder in an axial field of 1 A/m rms, radius / skin depth as given.
struct Cylinder {
  double ratio;

  [[nodiscard]] Complex wave_number() const { return Complex{1, 1} * ratio / kRadius; }
  [[nodiscard]] double hertz() const {
    return kCopper.rho * ratio * ratio / (reference::kPi * mu0 * kRadius * kRadius);
  }
  /// A = mu0 I1(kr)/(k I0(ka)) (classical; Davies & Simpson 1979).
  [[nodiscard]] Complex potential(double r) const {
    const Complex z = wave_number() * r;
    const Complex at_surface = wave_number() * kRadius;
    return mu0 / wave_number() * reference::scaled_i(1, z) / reference::scaled_i(0, at_surface) *
           std::exp(z - at_surface);
  }
  /// [W/m] at 1 A/m rms.
  [[nodiscard]] double power() const {
    return 2 * reference::kPi * ratio * kCopper.rho *
           reference::cylinder_loss_functions(ratio).real();
  }
};

struct Errors {
  double potential;  ///< L2 norm over that of the exact potential
  double power;      ///< relative
  double size;       ///< of the triangles: root of their mean area [m]
};

Errors cylinder_errors(const Cylinder& c, double skin_depth, double edge, const Sizing& sizing) {
  const double height = 1.2 * kRadius;
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, 0}, {kRadius, height}), skin_depth, edge});
  section.domain = Box{kRadius, 0, height};
  const Mesh mesh = generate_mesh(section, sizing);
  EddySystem system(mesh, {{}, medium(kCopper)}, {false, false, false});
  system.factorise({c.hertz()});
  const Eigen::VectorXcd source = surface_field_source(system).cast<Complex>();
  FieldSolution field{
      {c.hertz()}, system.media(), system.to_nodes(system.solve(source).col(0)), {0, 0}, {0, 0}};
  double miss = 0;
  double whole = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (const auto& s : triangle_samples(triangle_points(mesh, t))) {
      Complex found = 0;
      for (int i = 0; i < 6; ++i) found += s.value[i] * field.potential[mesh.triangles[t][i]];
      const Complex exact = c.potential(s.radius);
      miss += s.area * s.radius * std::norm(found - exact);
      whole += s.area * s.radius * std::norm(exact);
    }
  }
  return {std::sqrt(miss / whole), region_losses(mesh, field)[1] / height / c.power() - 1,
          std::sqrt(kRadius * height / static_cast<double>(mesh.triangles.size()))};
}

// Uniform triangles: the potential converges with the third power of their size (second-order
// elements, L2 norm), integrals of it with the fourth. Source: order, G. Strang & G. Fix, An
// Analysis of the Finite Element Method, Prentice-Hall 1973 (from memory, page not looked up);
// exact potential, J. Davies & P. Simpson, Induction Heating Handbook, McGraw-Hill 1979 (from
// memory, page not looked up).
TEST(Convergence, PotentialOnUniformTriangles) {
  const Cylinder c{3.0};
  const std::vector<double> edges{.125 * kRadius, .0884 * kRadius, .0625 * kRadius,
                                  .0442 * kRadius};
  std::vector<double> potential, power, size;
  for (const double edge : edges) {
    const Errors e = cylinder_errors(c, std::numeric_limits<double>::infinity(), edge, {});
    potential.push_back(e.potential);
    power.push_back(e.power);
    size.push_back(e.size);
  }
  expect_at_least(slope(size, potential), 2.8);
  expect_at_most(potential.front(), 1e-3);
  expect_at_most(potential.back(), 3e-5);
  expect_at_least(slope(size, power), 3.6);
  expect_at_most(std::abs(power.back()), 2e-7);
}

// Skin layers: the same at 10 and 30 skin depths per radius. Source: exact potential and power,
// Davies & Simpson 1979. The default layers are too thick to show the full order, so at least the
// second.
TEST(Convergence, PotentialAndPowerInSkinLayers) {
  for (const double ratio : {10.0, 30.0}) {
    const Cylinder c{ratio};
    std::array<double, 4> potential{};
    double power = 0;
    for (std::size_t i = 0; i < kSizes.size(); ++i) {
      const Errors e = cylinder_errors(c, kRadius / ratio, kRadius, Sizing{}.scaled(kSizes[i]));
      potential[i] = e.potential;
      power = e.power;
      expect_at_most(std::abs(e.power), 1e-3);
    }
    expect_at_least(slope_over_sizes(potential), 2.0);
    expect_at_most(potential.front(), 4e-2);
    expect_at_most(potential.back(), 4e-3);
    expect_at_most(std::abs(power), 5e-5);
  }
}

// Inductance of five rings of strands: fourth order, as an energy. Source: Neumann's formula
// averaged over the sections, F. E. Neumann, Abh. Preuss. Akad. Wiss. 1845 (from memory).
TEST(Convergence, InductanceOfFiveRings) {
  const reference::RingRow row{{.025, .003}, .009, 5};
  const double exact = reference::row_inductance(row);
  std::array<double, 4> error{};
  for (std::size_t i = 0; i < kSizes.size(); ++i) {
    Model model(ring_bodies(row, {}), {50, Sizing{}.scaled(kSizes[i])});
    error[i] = inductance(model.coil(TurnKind::uniform).impedance, {50}) / exact - 1;
  }
  expect_at_least(slope_over_sizes(error), 3.5);
  expect_at_most(std::abs(error.front()), 1e-4);
  expect_at_most(std::abs(error.back()), 2e-6);
}

/// Seven copper tubes of 6.35 mm round an aluminium rod at 100 kHz.
struct Heater {
  double inductance, coil_resistance, work_power;  ///< at 1 A rms
  int unknowns;
};

Heater seven_turns(double size) {
  auto bodies = ring_bodies({{.025, .003175}, .009, 7}, {58e6, 1 / mu0}, .002375);
  bodies.push_back({"workpiece", rectangle({0, -.04}, {.012, .04}), {35e6, 1 / mu0}});
  Model model(bodies, {100e3, Sizing{}.scaled(size)});
  const SeriesCoil coil = model.coil(TurnKind::massive);
  const double work = model.loss(coil.field, "workpiece");
  return {inductance(coil.impedance, model.frequency()), coil.impedance.real() - work, work,
          model.system().unknowns()};
}

// Property: a seven-turn heater on its default mesh, against its own solution with some twenty
// times the unknowns, has all three figures within 1e-3 with at most 8,000 unknowns; and refined,
// errors fall steadily, the work's slowest because of the rod's sharp corners.
TEST(Convergence, SevenTurnHeater) {
  const Heater fine = seven_turns(0.2);
  std::array<double, 4> inductance{};
  std::array<double, 4> coil{};
  std::array<double, 4> work{};
  for (std::size_t i = 0; i < kSizes.size(); ++i) {
    const Heater h = seven_turns(kSizes[i]);
    inductance[i] = h.inductance / fine.inductance - 1;
    coil[i] = h.coil_resistance / fine.coil_resistance - 1;
    work[i] = h.work_power / fine.work_power - 1;
    if (i == 0) {
      expect_at_most(h.unknowns, 8000);
      EXPECT_GE(fine.unknowns, 18 * h.unknowns);
    }
  }
  for (const auto& error : {inductance, coil, work}) {
    expect_at_most(std::abs(error.front()), 1e-3);
    expect_at_most(std::abs(error.back()), 5e-5);
  }
  expect_at_least(slope_over_sizes(inductance), 3.0);
  expect_at_least(slope_over_sizes(coil), 3.0);
  expect_at_least(slope_over_sizes(work), 2.5);
}

}  // namespace
}  // namespace cw::published
