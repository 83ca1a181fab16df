// Discs and washers of non-magnetic metal under flat stranded coils, on the default mesh: power and
// change of inductance against an integral equation (reference/disc_under_ring.hpp, error below
// 5e-6). Impedances are the same for rms and peak.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/published/check.hpp"
#include "tests/published/reference/disc_under_ring.hpp"
#include "tests/published/solve_for_check.hpp"

namespace cw::published {
namespace {

/// A flat coil of `count` turns above z = 0: `lift` to its lower face, inner radius, width, height
/// of a turn and pitch along the radius [m].
struct FlatCoil {
  double lift, inner, width, height, pitch;
  int count;
};

std::vector<reference::RectangularRing> rings_of(const FlatCoil& coil) {
  std::vector<reference::RectangularRing> rings;
  for (int k = 0; k < coil.count; ++k) {
    const double inner = coil.inner + k * coil.pitch;
    rings.push_back({inner, inner + coil.width, coil.lift, coil.lift + coil.height});
  }
  return rings;
}

/// Power and change of inductance within 1e-3.
void check_disc(const std::string& what, const reference::FlatDisc& disc, const FlatCoil& coil,
                double hertz) {
  SCOPED_TRACE(what);
  Section section;
  section.regions.push_back(
      {"workpiece", rectangle({disc.bore, -disc.thickness}, {disc.radius, 0})});
  Media media{{}, {disc.conductivity, 1 / mu0}};
  const TurnSet set = add_rings(section, media, rings_of(coil));
  const auto exact = reference::filaments_over_disc(filaments_of(rings_of(coil)), disc, hertz);
  const Checked found = solve_for_check(section, media, set, {hertz});
  expect_relative(found.loss[1], exact.power[0], 1e-3);
  const double w = 2 * reference::kPi * hertz;
  expect_within(found.change.imag() / w, exact.change.imag() / w,
                reactance_tolerance(exact.change) / w);
}

// Discs under flat coils narrower and wider than they are, thickness from a tenth of a skin depth
// to 17 of them. Second method: our integral equation of the disc (disc_under_ring.hpp, error below
// 5e-6); no published source.
TEST(DiscUnderRing, Discs) {
  check_disc("80 mm copper, 1 mm thick", {.040, .001, 5.8e7}, {.004, .015, .004, .003, .006, 3},
             10e3);
  check_disc("60 mm stainless, 10 mm thick", {.030, .010, 1.4e6}, {.003, .010, .003, .003, .005, 4},
             20e3);
  check_disc("60 mm aluminium, 10 mm thick, under a wider coil", {.030, .010, 3.5e7},
             {.005, .040, .005, .005, .007, 2}, 5e3);
  check_disc("40 mm copper foil", {.020, .0001, 5.8e7}, {.002, .006, .003, .002, .004, 3}, 5e3);
  check_disc("30 mm copper, 20 mm thick", {.015, .020, 5.8e7}, {.003, .008, .003, .003, .005, 1},
             3e3);
  check_disc("200 mm hot steel, 20 mm thick", {.100, .020, 9e5}, {.015, .030, .012, .010, .018, 4},
             3e3);
}

// Washers: the current runs round the bore as round the rim. Second method: the same integral
// equation.
TEST(DiscUnderRing, Washers) {
  check_disc("80 mm aluminium, bore 40 mm", {.040, .005, 3.5e7, .020},
             {.004, .022, .004, .004, .006, 2}, 5e3);
  check_disc("60 mm stainless, bore 56 mm", {.030, .003, 1.4e6, .028},
             {.002, .026, .003, .003, .005, 1}, 20e3);
}

}  // namespace
}  // namespace cw::published
