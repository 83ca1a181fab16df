#include "solver/field/frequency_sweep.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"

namespace {

using cw::Frequency;
using Complex = std::complex<double>;

/// Aluminium rod in seven turns of copper tube (an invented set-up), layered for the frequency
/// `top`.
struct RodInCoil {
  static constexpr double rod_conductivity = 35e6, tube_conductivity = 58e6;  // [S/m]
  static constexpr cw::RegionId rod = 1;
  cw::Mesh mesh;
  cw::EddySystem system;
  cw::TurnSet turns;

  explicit RodInCoil(Frequency top) : mesh(make_mesh(top)), system(mesh, media()) {
    turns.kind = cw::TurnKind::massive;
    for (int k = 0; k < 7; ++k) {
      turns.region.push_back(2 + k);
      turns.weight.push_back(1.0);
    }
  }

  static double skin_depth(Frequency f, double conductivity) {
    return std::sqrt(2 / (f.omega() * cw::mu0 * conductivity));
  }

  static cw::Mesh make_mesh(Frequency top) {
    cw::Section section;
    section.regions.push_back(
        {"workpiece", cw::rectangle({0, -0.04}, {0.012, 0.04}), skin_depth(top, rod_conductivity)});
    for (int k = 0; k < 7; ++k)
      section.regions.push_back({"turn." + std::to_string(k + 1),
                                 cw::Disc{{0.025, (k - 3) * 0.009}, 0.003175, 0.002375},
                                 skin_depth(top, tube_conductivity)});
    return cw::generate_mesh(section);
  }

  static cw::Media media() {
    cw::Media media(9, cw::Medium{tube_conductivity});
    media[0].conductivity = 0;
    media[rod].conductivity = rod_conductivity;
    return media;
  }

  cw::SeriesCoil direct(Frequency f) {
    return connect_in_series(system, turns, solve_turns(system, turns, f));
  }
};

std::vector<Frequency> spaced(Frequency low, Frequency high, int count) {
  std::vector<Frequency> all;
  all.reserve(count);
  for (int i = 0; i < count; ++i)
    all.push_back(
        {low.hertz * std::pow(high.hertz / low.hertz, static_cast<double>(i) / (count - 1))});
  return all;
}

struct Deviation {
  double resistance = 0, inductance = 0;  ///< largest, relative
  double estimate = 0,
         excess = 0;     ///< largest estimate; largest (true error of Z)/R above the estimate
  double sharpness = 0;  ///< largest (true error of Z)/R over estimate, where above rounding
  double reactive = 0;   ///< largest |Z|/R

  /// What rounding of two ways to solve the same system leaves in Z/R: 1e-14 of |Z|, some two
  /// hundred operations.
  [[nodiscard]] double rounding() const { return 2e-12 * reactive; }
};

/// Sweep against one direct solve at each of 30 frequencies.
Deviation compare(RodInCoil& coil, const cw::FrequencySweep& sweep, Frequency low, Frequency high) {
  Deviation d;
  for (const Frequency f : spaced(low, high, 30)) {
    const Complex z = sweep.impedance(f), exact = coil.direct(f).impedance;
    const double error = std::abs(z - exact) / exact.real(), estimate = sweep.error_estimate(f);
    d.resistance = std::max(d.resistance, std::abs(z.real() / exact.real() - 1));
    d.inductance = std::max(d.inductance, std::abs(z.imag() / exact.imag() - 1));
    d.estimate = std::max(d.estimate, estimate);
    d.excess = std::max(d.excess, error - estimate);
    d.reactive = std::max(d.reactive, std::abs(exact) / exact.real());
    if (error > 1e-9) d.sharpness = std::max(d.sharpness, error / estimate);
  }
  return d;
}

/// The same of |Z| = 50 R.
constexpr double rounding = 1e-10;

// A band of 40 to 1 takes few solves, keeps R to the tolerance, and the estimate encloses the true
// error of Z.
TEST(FrequencySweep, AgreesWithDirectSolvesFromTenToFourHundredKilohertz) {
  const Frequency low{10e3}, high{400e3};
  RodInCoil coil(high);
  const cw::FrequencySweep sweep(coil.system, coil.turns, low, high);
  EXPECT_LE(sweep.solves(), 4);
  const Deviation d = compare(coil, sweep, low, high);
  EXPECT_LT(d.resistance, 1e-3);
  EXPECT_LT(d.inductance, 3e-5);
  EXPECT_LE(d.estimate, 1e-3);
  EXPECT_LT(d.excess, d.rounding());
  EXPECT_GT(d.sharpness, 0.2) << "an estimate far above the error wastes solves";
}

// Each tolerance is met, and the estimate encloses the error each time.
TEST(FrequencySweep, MeetsEveryTolerance) {
  const Frequency low{20e3}, high{300e3};
  RodInCoil coil(high);
  for (const double tolerance : {3e-2, 1e-4, 1e-6, 1e-8}) {
    const cw::FrequencySweep sweep(coil.system, coil.turns, low, high, tolerance);
    const Deviation d = compare(coil, sweep, low, high);
    EXPECT_LT(d.resistance, tolerance);
    EXPECT_LE(d.estimate, tolerance * 1.01) << "30 frequencies may fall between those of the check";
    EXPECT_LT(d.excess, d.rounding()) << tolerance;
  }
}

// Three decades, the lowest skin depth thirty times the highest: still within the tolerance in a
// few solves.
TEST(FrequencySweep, CoversThreeDecades) {
  const Frequency low{1e3}, high{1e6};
  RodInCoil coil(high);
  const cw::FrequencySweep sweep(coil.system, coil.turns, low, high);
  EXPECT_LE(sweep.solves(), 5);
  const Deviation d = compare(coil, sweep, low, high);
  EXPECT_LT(d.resistance, 1e-3);
  EXPECT_LT(d.excess, d.rounding());
}

// At a shift the model contains the direct solution, so impedance, turn voltages and potential must
// be the same.
TEST(FrequencySweep, IsExactAtItsShifts) {
  const Frequency low{1e3}, high{1e6};
  RodInCoil coil(high);
  const cw::FrequencySweep sweep(coil.system, coil.turns, low, high);
  ASSERT_GE(sweep.shifts().size(), 2u);
  for (const Frequency f : sweep.shifts()) {
    const cw::SeriesCoil direct = coil.direct(f);
    EXPECT_LT(std::abs(sweep.impedance(f) - direct.impedance), rounding * direct.impedance.real());
    const cw::FieldSolution field = sweep.field(f);
    EXPECT_LT((field.potential - direct.field.potential).norm(),
              1e-9 * direct.field.potential.norm());
    for (const cw::RegionId turn : coil.turns.region)
      EXPECT_LT(std::abs(field.loop_voltage[turn] - direct.field.loop_voltage[turn]),
                1e-9 * std::abs(direct.field.loop_voltage[turn]));
    EXPECT_LT(sweep.error_estimate(f), rounding);
  }
}

// The field of the model carries the power: workpiece loss as in the direct solution, all losses
// together I^2 R.
TEST(FrequencySweep, FieldCarriesThePower) {
  const Frequency low{10e3}, high{400e3};
  RodInCoil coil(high);
  const cw::FrequencySweep sweep(coil.system, coil.turns, low, high);
  for (const Frequency f : spaced(low, high, 30)) {
    const std::vector<double> loss = region_losses(coil.mesh, sweep.field(f));
    const std::vector<double> exact = region_losses(coil.mesh, coil.direct(f).field);
    EXPECT_NEAR(loss[RodInCoil::rod] / exact[RodInCoil::rod], 1, 1e-3) << f.hertz;
    double total = 0;
    for (const double watt : loss) total += watt;
    // Balance of the projected problem itself: Re(I* V) = I^2 R with I = 1 A.
    EXPECT_NEAR(total / sweep.impedance(f).real(), 1, 1e-8) << f.hertz;
  }
}

// Part turns weigh in current and in voltage, as in the direct series connection.
TEST(FrequencySweep, WeighsPartTurns) {
  const Frequency low{10e3}, high{400e3};
  RodInCoil coil(high);
  coil.turns.weight = {0.5, 1, 1, 0.93, 1, 1, 0.25};
  const cw::FrequencySweep sweep(coil.system, coil.turns, low, high);
  const Deviation d = compare(coil, sweep, low, high);
  EXPECT_LT(d.resistance, 1e-3);
  EXPECT_LT(d.excess, d.rounding());
}

// Strands of uniform current: their own resistance is added; the eddy currents are those of the rod
// alone.
TEST(FrequencySweep, ServesUniformTurns) {
  const Frequency low{10e3}, high{400e3};
  RodInCoil coil(high);
  coil.turns.kind = cw::TurnKind::uniform;
  coil.turns.resistance.assign(7, 1e-4);
  coil.turns.weight = {0.5, 1, 1, 1, 1, 1, 0.5};
  cw::Media media = RodInCoil::media();
  for (const cw::RegionId turn : coil.turns.region) media[turn].conductivity = 0;
  cw::EddySystem system(coil.mesh, media);
  const cw::FrequencySweep sweep(system, coil.turns, low, high);
  for (const Frequency f : spaced(low, high, 30)) {
    const cw::SeriesCoil direct =
        connect_in_series(system, coil.turns, solve_turns(system, coil.turns, f));
    const double error = std::abs(sweep.impedance(f) - direct.impedance) / direct.impedance.real();
    EXPECT_LT(error, 1e-3);
    EXPECT_LT(error, sweep.error_estimate(f) + rounding);
    const cw::FieldSolution field = sweep.field(f);
    EXPECT_LT((field.potential - direct.field.potential).norm(),
              1e-2 * direct.field.potential.norm());
    for (const cw::RegionId turn : coil.turns.region)
      EXPECT_EQ(field.impressed[turn], direct.field.impressed[turn]);
  }
}

// Without any conductor the model is one inductance, exact with one solve however wide the band.
TEST(FrequencySweep, FindsAnInductanceAlone) {
  RodInCoil coil({400e3});
  coil.turns.kind = cw::TurnKind::uniform;
  coil.turns.resistance.assign(7, 0.0);
  cw::EddySystem system(coil.mesh, cw::Media(9));
  const cw::FrequencySweep sweep(system, coil.turns, {1.0}, {1e6});
  EXPECT_EQ(sweep.solves(), 1);
  const double inductance = sweep.impedance({1.0}).imag() / Frequency{1.0}.omega();
  const Complex direct =
      connect_in_series(system, coil.turns, solve_turns(system, coil.turns, {5e5})).impedance;
  EXPECT_NEAR(direct.imag() / Frequency{5e5}.omega() / inductance, 1, 1e-12);
  EXPECT_EQ(sweep.error_estimate({3e4}), 0.0);
}

// One frequency is a band too: the direct solution there, and an honest estimate elsewhere.
TEST(FrequencySweep, EnclosesItsErrorOutsideTheBand) {
  const Frequency only{50e3};
  RodInCoil coil({200e3});
  const cw::FrequencySweep sweep(coil.system, coil.turns, only, only);
  EXPECT_EQ(sweep.solves(), 1);
  for (const Frequency f : spaced({5e3}, {500e3}, 9)) {
    const Complex exact = coil.direct(f).impedance;
    EXPECT_LT(std::abs(sweep.impedance(f) - exact) / exact.real(),
              sweep.error_estimate(f) + rounding)
        << f.hertz;
  }
  EXPECT_GT(sweep.error_estimate({500e3}), 1e-2);
}

// A coil is passive: resistance rises with frequency and inductance falls, without exception, in
// the model too.
TEST(FrequencySweep, ResistanceRisesAndInductanceFalls) {
  RodInCoil coil({400e3});
  const cw::FrequencySweep sweep(coil.system, coil.turns, {10e3}, {400e3});
  double resistance = 0, inductance = 1;
  for (const Frequency f : spaced({1.0}, {100e6}, 400)) {
    const Complex z = sweep.impedance(f);
    EXPECT_GT(z.real(), resistance);
    EXPECT_LT(z.imag() / f.omega(), inductance);
    resistance = z.real();
    inductance = z.imag() / f.omega();
  }
}

// An impossible band is refused with its figures.
TEST(FrequencySweep, RefusesABandThatFallsOrStartsAtZero) {
  RodInCoil coil({100e3});
  for (const auto& [low, high] : {std::pair{0.0, 1e5}, {2e5, 1e5}, {-1.0, 1e5}, {1e4, HUGE_VAL}})
    try {
      const cw::FrequencySweep sweep(coil.system, coil.turns, {low}, {high});
      ADD_FAILURE() << low << " to " << high;
    } catch (const cw::SolveError& error) {
      EXPECT_NE(std::string(error.what()).find("band"), std::string::npos) << error.what();
    }
  const cw::FrequencySweep sweep(coil.system, coil.turns, {5e4}, {1e5});
  EXPECT_THROW((void)sweep.impedance({0.0}), cw::SolveError);
}

}  // namespace
