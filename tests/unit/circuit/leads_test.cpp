#include "solver/circuit/leads.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr double lead_copper = 1.0 / 1.724e-8;  // [S/m]; only fixes the test's input

const cw::RoundConductor wire{.outer_radius = 3e-3, .conductivity = lead_copper};
const cw::RoundConductor tube{.outer_radius = 3e-3, .wall = 1e-3, .conductivity = lead_copper};

cw::Frequency wire_at_skin_depths(double skins) {
  const double depth = wire.outer_radius / skins;
  return {1.0 / (pi * cw::mu0 * lead_copper * depth * depth)};
}

/// Solves m x = b in place (Gauss, partial pivots); small dense systems of this test only.
std::vector<Complex> solve_small(std::vector<std::vector<Complex>> m, std::vector<Complex> b) {
  const std::size_t n = b.size();
  for (std::size_t c = 0; c < n; ++c) {
    std::size_t p = c;
    for (std::size_t r = c; r < n; ++r) {
      if (std::abs(m[r][c]) > std::abs(m[p][c])) p = r;
    }
    std::swap(m[p], m[c]);
    std::swap(b[p], b[c]);
    for (std::size_t r = c + 1; r < n; ++r) {
      const Complex share = m[r][c] / m[c][c];
      for (std::size_t k = c; k < n; ++k) m[r][k] -= share * m[c][k];
      b[r] -= share * b[c];
    }
  }
  for (std::size_t r = n; r-- > 0;) {
    for (std::size_t k = r + 1; k < n; ++k) b[r] -= m[r][k] * b[k];
    b[r] /= m[r][r];
  }
  return b;
}

/// Impedance per metre of the pair from its section cut into straight filaments, each with the
/// self-inductance of a round one of the same area: an independent, first-order method.
Complex pair_by_filaments(const cw::RoundConductor& c, double spacing, double omega, int rings) {
  const double bore = c.solid() ? 0.0 : c.outer_radius - c.wall;
  const double metal = c.outer_radius * c.outer_radius - bore * bore;
  const int around = 28;
  const double area =
      pi * metal / (rings * around);  // rings of equal area are thin near the surface
  std::vector<Complex> at;
  for (int i = 0; i < rings; ++i) {
    const double r = std::sqrt(bore * bore + metal * (i + 0.5) / rings);
    for (int j = 0; j < around; ++j) at.push_back(std::polar(r, 2.0 * pi * (j + 0.5) / around));
  }
  const std::size_t n = at.size();
  std::vector<std::vector<Complex>> m(n, std::vector<Complex>(n));
  for (std::size_t p = 0; p < n; ++p) {
    for (std::size_t q = 0; q < n; ++q) {
      const double own = std::sqrt(area / pi) * std::exp(-0.25);
      const double here = p == q ? own : std::abs(at[p] - at[q]);
      const double mirrored = std::abs(at[p] - (spacing - std::conj(at[q])));
      m[p][q] = Complex(0.0, omega * cw::mu0 / (2.0 * pi) * std::log(mirrored / here));
    }
    m[p][p] += 1.0 / (c.conductivity * area);
  }
  Complex current = 0.0;
  for (const Complex& i : solve_small(m, std::vector<Complex>(n, 1.0))) current += i;
  return 2.0 / current;
}

// In the thin-skin limit resistance and inductance are those of two conducting cylinders. Source:
// closed form 1/sqrt(1 - (d/s)^2) and (mu0/pi) acosh(s/d), evaluated; reached by extrapolating the
// skin depth to nothing from two frequencies.
TEST(ParallelPair, ThinSkinGivesTheClosedFormOfTwoCylinders) {
  const struct {
    double ratio, factor, nanohenry;
  } rows[] = {{1.1, 2.4003968, 177.427302}, {1.25, 1.6666667, 277.258872},
              {1.5, 1.3416408, 384.969460}, {2.0, 1.1547005, 526.783159},
              {3.0, 1.0606602, 705.098870}, {5.0, 1.0206207, 916.972668}};
  for (const auto& c : {wire, tube}) {
    for (const auto& row : rows) {
      const double s = row.ratio * 6e-3;
      const auto factor = [&](double skins) {
        const cw::Frequency f = wire_at_skin_depths(skins);
        return cw::parallel_pair(c, s, f).resistance_ohm /
               (2.0 * cw::internal_impedance(c, f).resistance_ohm);
      };
      const auto inductance = [&](double skins) {
        return 1e9 * cw::parallel_pair(c, s, wire_at_skin_depths(skins)).inductance_H;
      };
      EXPECT_NEAR(2.0 * factor(2000.0) - factor(1000.0), row.factor, 2e-5) << row.ratio;
      EXPECT_NEAR(2.0 * inductance(2000.0) - inductance(1000.0), row.nanohenry, 2e-3) << row.ratio;
    }
  }
}

// At direct current there is no proximity, and solid wires have (mu0/pi)(ln(s/a) + 1/4). Source:
// closed form for uniform current, E. B. Rosa, Bull. Bur. Stand. 4 (1908) 301 (from memory).
TEST(ParallelPair, DirectCurrentKnowsNoProximity) {
  for (double s : {6.6e-3, 12e-3, 60e-3}) {
    const auto z = cw::parallel_pair(wire, s, {0.0});
    EXPECT_NEAR(z.resistance_ohm / (2.0 * cw::dc_resistance(wire)), 1.0, 1e-11);
    EXPECT_NEAR(z.inductance_H / (cw::mu0 / pi * (std::log(s / 3e-3) + 0.25)), 1.0, 1e-6);
  }
}

// Between the limits, where no closed form exists, the proximity effect on resistance and reactance
// equals that of a section cut into 280 filaments. Both are relative to the same pair 50 diameters
// apart, so that the coarseness of the filaments cancels.
TEST(ParallelPair, NearnessAgreesWithASectionOfFilamentsInBetween) {
  const double wide = 0.3;
  for (const auto& c : {wire, tube}) {
    for (double hertz : {1e3, 3e3, 1e4}) {
      const cw::Frequency f{hertz};
      const auto apart = cw::parallel_pair(c, wide, f);
      const Complex filaments_apart = pair_by_filaments(c, wide, f.omega(), 10);
      for (double s : {7.5e-3, 15e-3}) {
        const auto near = cw::parallel_pair(c, s, f);
        const Complex filaments = pair_by_filaments(c, s, f.omega(), 10);
        EXPECT_NEAR(near.resistance_ohm / apart.resistance_ohm,
                    filaments.real() / filaments_apart.real(), 0.01)
            << s << " " << hertz;
        EXPECT_NEAR(f.omega() * (apart.inductance_H - near.inductance_H) /
                        (filaments_apart - filaments).imag(),
                    1.0, 0.002)
            << s << " " << hertz;
      }
    }
  }
}

// Far apart, go and return do not affect each other: twice the single tube.
TEST(ParallelPair, WideSpacingLeavesOnlySkinEffect) {
  const cw::Frequency f{9e4};
  EXPECT_NEAR(cw::parallel_pair(tube, 0.6, f).resistance_ohm /
                  (2.0 * cw::internal_impedance(tube, f).resistance_ohm),
              1.0, 6e-5);
}

// Conductors that would touch are refused, and the message says value, limit and remedy.
TEST(ParallelPair, TouchingConductorsAreRefusedWithARemedy) {
  for (double s : {5e-3, 6e-3, -1.0}) {
    EXPECT_THROW(cw::parallel_pair(tube, s, {1e5}), std::invalid_argument) << s;
  }
  try {
    cw::parallel_pair(tube, 5e-3, {1e5});
    FAIL();
  } catch (const std::invalid_argument& e) {
    const std::string said = e.what();
    EXPECT_NE(said.find("spacing is 5 mm"), std::string::npos) << said;
    EXPECT_NE(said.find("diameter of 6 mm"), std::string::npos) << said;
    EXPECT_NE(said.find("\"9 mm\""), std::string::npos) << said;
  }
}

// The filament formula tends to Rosa's (mu0 l/2 pi)(ln(2l/a) - 1), E. B. Rosa, Bull. Bur. Stand. 4
// (1908) 301 (from memory), its first correction being mu0 a/2 pi; and equals the double integral.
TEST(ClosingRun, PartialInductanceIsRosas) {
  const double l = 2.0;
  const double a = 1e-3;
  const double leading = cw::mu0 * l / (2.0 * pi) * (std::log(2.0 * l / a) - 1.0);
  EXPECT_NEAR(cw::parallel_filaments(l, a) - leading, cw::mu0 * a / (2.0 * pi), 1e-12);
  double sum = 0.0;
  for (int i = 0; i < 400; ++i) {
    for (int j = 0; j < 400; ++j) sum += 1.0 / std::hypot(45e-3 * (i - j) / 400.0, 30e-3);
  }
  sum *= cw::mu0 / (4.0 * pi) * std::pow(45e-3 / 400.0, 2);
  EXPECT_NEAR(cw::parallel_filaments(45e-3, 30e-3) / sum, 1.0, 1e-4);
}

// The coil's axial current as an even sheet: the mutual inductance of a run just outside the turns
// with the real helix, summed over short pieces, is that of the sheet within 3 %.
TEST(ClosingRun, AxialCurrentOfTheCoilActsLikeAnEvenSheet) {
  const double R = 25e-3, pitch = 9e-3, run = 31e-3, length = 45e-3;
  const int steps = 1500;
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double turn = 5.0 * (i + 0.5) / steps;
    const double across = std::sqrt(R * R + run * run - 2.0 * R * run * std::cos(2.0 * pi * turn));
    for (int j = 0; j < 300; ++j) {
      sum += 1.0 / std::hypot(across, pitch * turn - length * (j + 0.5) / 300.0);
    }
  }
  const double mutual = cw::mu0 / (4.0 * pi) * sum * (length / steps) * (length / 300.0);
  cw::LeadLoop leads{.one_way_length = 0.12,
                     .spacing = 20e-3,
                     .conductor = tube,
                     .coil_length = length,
                     .coil_radius = R};
  const double alone = cw::closing_run(leads, {9e4}).inductance_H;
  leads.run_distance = run;
  const double beside = cw::closing_run(leads, {9e4}).inductance_H;
  EXPECT_NEAR((alone - beside) / 2.0 / mutual, 1.0, 0.03);
  leads.run_distance = R;
  EXPECT_THROW(cw::closing_run(leads, {9e4}), std::invalid_argument);
}

// Pair and run add up, in proportion to their lengths.
TEST(Leads, ImpedanceIsThePairAndTheRunInSeries) {
  const cw::Frequency f{9e4};
  const cw::LeadLoop leads{.one_way_length = 0.12,
                           .spacing = 20e-3,
                           .conductor = tube,
                           .coil_length = 45e-3,
                           .run_distance = 31e-3};
  const auto pair = cw::parallel_pair(tube, 20e-3, f);
  const auto run = cw::closing_run(leads, f);
  const auto own = cw::internal_impedance(tube, f);
  EXPECT_NEAR(run.resistance_ohm, 45e-3 * own.resistance_ohm, 1e-15);
  EXPECT_NEAR(run.inductance_H,
              45e-3 * own.inductance_H + cw::parallel_filaments(45e-3, 3e-3) -
                  2.0 * cw::parallel_filaments(45e-3, 31e-3),
              1e-18);
  const auto all = cw::leads_impedance(leads, f);
  EXPECT_NEAR(all.resistance_ohm, 0.12 * pair.resistance_ohm + run.resistance_ohm, 1e-15);
  EXPECT_NEAR(all.inductance_H, 0.12 * pair.inductance_H + run.inductance_H, 1e-18);

  cw::LeadLoop none = leads;
  none.one_way_length = none.coil_length = 0.0;
  EXPECT_EQ(cw::leads_impedance(none, f).resistance_ohm, 0.0);
  EXPECT_EQ(cw::leads_impedance(none, f).inductance_H, 0.0);
  none.one_way_length = -0.1;
  EXPECT_THROW(cw::leads_impedance(none, f), std::invalid_argument);
}

// The equivalent round conductor of a bar has its metal area and its perimeter.
TEST(Leads, BarBecomesATubeOfItsPerimeterAndArea) {
  for (double wall : {0.0, 1e-3, 2e-3}) {
    const cw::Bar bar{.width = 8e-3, .height = 4e-3, .wall = wall, .conductivity = lead_copper};
    const auto round = cw::equivalent_round(bar);
    EXPECT_NEAR(2.0 * pi * round.outer_radius, 24e-3, 1e-15);
    const double area = wall == 1e-3 ? 20e-6 : 32e-6;  // a 2 mm wall closes the bore of a 4 mm bar
    EXPECT_NEAR(1.0 / (lead_copper * cw::dc_resistance(round)), area, 1e-12 * area);
  }
  EXPECT_THROW(cw::equivalent_round({.width = 0.0, .height = 4e-3, .conductivity = lead_copper}),
               std::invalid_argument);
}

}  // namespace
