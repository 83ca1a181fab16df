// Stray field of whole cases, leads and all, against currents in three dimensions.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "solver/run/stray_field.hpp"
#include "tests/published/check.hpp"
#include "tests/published/reference/stray.hpp"

namespace cw::published {
namespace {

using reference::Space;

constexpr double kCurrent = 30;  ///< [A] rms

/// Coil, leads and rod of aluminium-rod-on-12-volts at a given current; the conductor and the rod
/// are filled in.
cases::Case heater_of(const std::string& conductor, const std::string& workpiece) {
  return cases::read_case_text(workpiece + R"(
[coil]
turns = 8
bore = "26 mm"
pitch = "7.5 mm"
temperature = "20 degC"
leads = { length = "120 mm", spacing = "20 mm" }
conductor = )" + conductor + R"(
[drive]
kind = "current"
frequency = "170 kHz"
rms = "30 A"
)",
                               "case.toml");
}

constexpr double kMean = .016, kOuter = .019, kHalf = .030, kEnd = 3.5 * .0075 + .003;

/// The centreline, and what spreads it over a section: helices displaced by `radial` and `axial`.
struct Strand {
  double radial, axial;
};

/// The whole path of the current: helix, radially out to `run`, along the coil to mid-height, the
/// leads and back.
std::vector<Space> whole_path(bool right_handed, const Strand& strand) {
  const double run = kMean + .009, end = run + .120, half = .010;
  std::vector<Space> path = reference::helix_path(
      {kMean + strand.radial, -kHalf + strand.axial, kHalf + strand.axial, 8, right_handed}, 360);
  for (const Space& corner : {Space{run, 0, kHalf},
                              {run, 0, half},
                              {end, 0, half},
                              {end, 0, -half},
                              {run, 0, -half},
                              {run, 0, -kHalf},
                              {kMean, 0, -kHalf}})
    path.push_back(corner);
  return path;
}

/// The rings that the helix stands for as filaments: taken away where surface currents replace
/// them.
std::vector<reference::LoopCurrent> filaments() {
  std::vector<reference::LoopCurrent> loops;
  for (int k = 0; k < 8; ++k) loops.push_back({kMean, (k - 3.5) * .0075, 1});
  return loops;
}

/// One way to compute: strands that carry the current evenly, and loops added and taken away.
struct Currents {
  std::vector<Strand> strands;
  std::vector<reference::LoopCurrent> added, taken;
};

/// |B| [T] rms, the larger of both ways to wind.
double strength(const Space& at, const Currents& currents) {
  const double rho = std::hypot(at[0], at[1]);
  const auto more = reference::flux_of_loops(currents.added, rho, at[2]),
             less = reference::flux_of_loops(currents.taken, rho, at[2]);
  const double c = rho > 0 ? at[0] / rho : 1, s = rho > 0 ? at[1] / rho : 0;
  double largest = 0;
  for (const bool right : {true, false}) {
    const double round = right ? 1 : -1;  // a left-handed coil carries its current the other way
    const double radial = round * (more.radial - less.radial);
    Space sum{c * radial, s * radial, round * (more.axial - less.axial)};
    for (const Strand& strand : currents.strands) {
      const Space one = reference::flux_of_path(whole_path(right, strand), at);
      for (int i = 0; i < 3; ++i) sum[i] += one[i] / static_cast<double>(currents.strands.size());
    }
    largest = std::max(largest, std::hypot(sum[0], sum[1], sum[2]));
  }
  return kCurrent * largest;
}

double on_axis(double d, const Currents& currents) {
  return std::max(strength({0, 0, kEnd + d}, currents), strength({0, 0, -kEnd - d}, currents));
}

double beside(double d, const Currents& currents) {
  return std::max(strength({0, kOuter + d, 0}, currents), strength({-kOuter - d, 0, 0}, currents));
}

/// Where a falling field meets the level [m].
double meets(const Currents& currents, double level) {
  double low = .01, high = 5;
  for (int k = 0; k < 40; ++k) {
    const double middle = std::sqrt(low * high);
    const double field = std::max(on_axis(middle, currents), beside(middle, currents));
    (field > level ? low : high) = middle;
  }
  return low;
}

/// Fields on the axis and beside from 0.1 and 0.05 m on, and keep-out distances beyond the ends of
/// the rod, inside of which the reference does not hold.
void expect_alike(const cases::Case& subject, const Currents& currents, double tolerance) {
  const cw::Run run = cases::run_case(subject, cw::Effort::normal);
  const cw::StrayField stray(subject, run.states.front());
  for (const double d : {.05, .1, .2, .5, 1.}) {
    SCOPED_TRACE(d);
    if (d > .05) expect_relative(stray.on_axis(d), on_axis(d, currents), tolerance);
    // Rings lie level where the turns of a helix climb: 0.7 % at 50 mm beside this coil.
    expect_relative(stray.beside(d), beside(d, currents), d > .05 ? tolerance : .01);
  }
  ASSERT_TRUE(run.result.exposure);
  int compared = 0;
  for (const ExposureLevel& level : run.result.exposure->levels) {
    if (level.keep_out < .06) continue;
    expect_relative(level.keep_out, meets(currents, level.level), tolerance);
    ++compared;
  }
  EXPECT_GE(compared, 2);
}

// The reference itself: the path of a square has the field 2 sqrt(2) mu0/(pi a) in its middle, and
// at a distance a helix of small pitch has that of its rings. Source: Biot and Savart's law for
// straight pieces (derivation); S. J. Ling, J. Sanny & W. Moebs, University Physics Volume 2,
// OpenStax 2016, section 12.4, for rings.
TEST(StrayField, ReferenceAgainstClosedForms) {
  const double middle = reference::flux_of_path(
      {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}, {0, 0, 0}}, {.5, .5, 0})[2];
  expect_relative(middle, 2 * std::sqrt(2.) * reference::kMu0 / reference::kPi, 1e-12);
  const auto helix = reference::helix_path({kMean, -1e-6, 1e-6, 8, true}, 720);
  expect_relative(reference::flux_of_path(helix, {0, 0, .1})[2],
                  8 * reference::loop_field(kMean, 0, .1).axial, 1e-4);
}

// An empty coil of strands, over whose section the current is even: field on the axis, beside the
// coil and keep-out distances. Second method: Biot and Savart's law along the true helix with its
// closing run and leads. Four helices have the moment of a round section, R^2 + a^2/4.
TEST(StrayField, EmptyCoilWithLeads) {
  constexpr double off = .0015;
  expect_alike(heater_of(R"({ strands = 2000, strand = "0.1 mm", bundle = "6 mm" })", ""),
               {{{off, off}, {off, -off}, {-off, off}, {-off, -off}}, {}, {}}, .005);
}

/// Half the skin depth of a resistivity [m].
double half_skin(double ohm_m) {
  return .5 * std::sqrt(ohm_m / (reference::kPi * 170e3 * reference::kMu0));
}

// The same of copper tube round an aluminium rod, both with a skin of 0.2 mm. Second method:
// surface currents by an integral equation of their own, half a skin depth below the surface
// (resistivities of 17.2 and 40 nohm m, from memory), take the place of the helix's own round the
// axis.
TEST(StrayField, ScreenedCoilWithLeads) {
  const double aluminium = half_skin(4.0e-8), copper = half_skin(1.72e-8);
  reference::ScreenedCoil coil{{}, {}, .006 - aluminium, -.060 + aluminium, .060 - aluminium};
  for (int k = 0; k < 8; ++k) {
    coil.tubes.push_back({kMean, .003 - copper});
    coil.heights.push_back((k - 3.5) * .0075);
  }
  expect_alike(heater_of(R"({ tube = "6 mm", wall = "1 mm", material = "copper-tube" })",
                         R"(
[workpiece]
material = "aluminium-6061-t6"
diameter = "12 mm"
length = "120 mm"
temperature = "20 degC"
)"),
               {{{0, 0}}, reference::surface_currents(coil, 64, .00025), filaments()}, .01);
}

}  // namespace
}  // namespace cw::published
