// Coils over wide plates against the layered half-space of Dodd & Deeds (J. Appl. Phys. 39, 1968,
// 2829). Impedances are the same for rms and peak phasors; changes are found on one mesh with and
// without the plate.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <tuple>

#include "tests/published/solve_section.hpp"

namespace cw::published {
namespace {

/// A disc that represents an infinite plate.
struct WidePlate {
  reference::Metal metal;
  double thickness, radius;
};

Body plate_body(const WidePlate& plate, double edge) {
  return {"workpiece", rectangle({0, -plate.thickness}, {plate.radius, 0}), medium(plate.metal),
          edge};
}

Complex change_by_plate(const reference::ThickCoil& coil, double lift, const WidePlate& plate,
                        double hertz) {
  const Body winding{"turn.1",
                     rectangle({coil.inner, lift}, {coil.outer, lift + coil.length}),
                     {},
                     coil.length / 6};
  Model loaded({winding, plate_body(plate, coil.outer / 8)}, {hertz, Sizing{}.scaled(.5)});
  const Complex with = loaded.coil(TurnKind::uniform).impedance;
  return (with - loaded.without({"workpiece"}).coil(TurnKind::uniform).impedance) *
         (coil.turns * coil.turns);
}

// Burke's probes A and B over aluminium of 3.06e7 S/m: half-space, plate of 12.22 mm, and the
// second probe. Source: C. V. Dodd & W. E. Deeds, Analytical solutions to eddy-current probe-coil
// problems, J. Appl. Phys. 39 (1968) 2829 (form from memory), evaluated from the closed form; sizes
// of S. K. Burke, A benchmark problem for computation of delta Z in eddy-current nondestructive
// evaluation, J. Nondestr. Eval. 7 (1988) 35 (from memory). A disc of five winding radii is wide
// enough: one of eight changes nothing.
TEST(HalfSpace, ThickCoilOverAluminium) {
  const reference::Metal aluminium{1 / 3.06e7};
  const reference::ThickCoil a{.00615, .0124, .00615, 3790};
  const reference::ThickCoil b{.00934, .0184, .009, 408};
  const Complex thick = change_by_plate(a, .88e-3, {aluminium, .03, .062}, 900);
  expect_relative(thick.real(), 120.6144, 1e-3);
  expect_relative(thick.imag(), -267.6632, 1e-3);
  expect_relative(inductance(thick, {900}), -47.33325e-3, 1e-3);
  const Complex wider = change_by_plate(a, .88e-3, {aluminium, .03, .1}, 900);
  EXPECT_LT(std::abs(wider - thick), 3e-4 * std::abs(thick));
  const Complex plate = change_by_plate(a, .88e-3, {aluminium, .01222, .062}, 900);
  expect_relative(plate.real(), 120.6505, 1e-3);
  expect_relative(plate.imag(), -267.658, 1e-3);
  const Complex second = change_by_plate(b, 2.03e-3, {aluminium, .02, .092}, 7e3);
  expect_relative(second.real(), 5.613186, 1e-3);
  expect_relative(inductance(second, {7e3}), -1.144258e-3, 1e-3);
}

// One filament loop 5 mm above a half-space, 50 kHz. Source: C. V. Dodd & W. E. Deeds, Analytical
// solutions to eddy-current probe-coil problems, J. Appl. Phys. 39 (1968) 2829 (form from memory),
// evaluated from the closed form; the problem of A. J. M. Zaman, S. A. Long & C. G. Gardner, The
// impedance of a single-turn coil near a conducting half space, J. Nondestr. Eval. 1 (1980) 183
// (abstract read). An almost perfect conductor gives the mirror image, -M of two loops 10 mm apart
// (J. C. Maxwell, A Treatise on Electricity and Magnetism, 1873, art. 701).
TEST(HalfSpace, LoopOverFourMetals) {
  const double hertz = 50e3;
  const Point loop{.025, .005};
  for (const auto& [metal, mohm, nH] :
       {std::tuple{reference::Metal{1 / 3.5e7}, .31279022, -32.726239},
        {{1 / 5.8e7}, .24552969, -32.958571},
        {{1 / 1.4e6}, 1.2949849, -28.658048},
        {{1 / 6.25e6, 100}, 3.4477477, -14.04358},
        {{1e-12}, .0, -33.768472}}) {
    Model loaded({{"window", Disc{loop, .0025, 0}, {}, .0008}, plate_body({metal, .05, .15}, .003)},
                 {hertz, Sizing{}.scaled(.7)});
    const Complex change =
        loaded.filaments({loop}) - loaded.without({"workpiece"}).filaments({loop});
    SCOPED_TRACE(testing::Message() << metal.rho << " ohm m, mu_r " << metal.mu_r);
    expect_relative(inductance(change, {hertz}), 1e-9 * nH, 1e-3);
    if (mohm > 0) {
      expect_relative(change.real(), 1e-3 * mohm, 1e-3);
    } else {
      expect_relative(inductance(change, {hertz}), -reference::mutual_inductance(.025, .025, .010),
                      1e-3);
    }
  }
}

/// Change [ohm] that a shorted copper ring makes to a filament loop of 30 mm, 10 mm below it.
Complex change_by_short(const reference::Torus& ring, double hertz) {
  const Point loop{.030, 0};
  Model loaded(
      {{"window", Disc{loop, .003, 0}, {}, .0008},
       {"short", Disc{{ring.mean_radius, .010}, ring.section_radius, 0}, medium({1.724e-8})}},
      {hertz, Sizing{}.scaled(.35)});
  return loaded.filaments({loop}) - loaded.without({"short"}).filaments({loop});
}

// A shorted copper ring reflects w^2 M^2/(R2 + j w L2) into a loop. Source: the coupled circuits of
// J. C. Maxwell, A Treatise on Electricity and Magnetism, 1873, with M by art. 701, L2 by Neumann's
// formula; evaluated from the closed form. Exact for a wire that is thin against its skin depth and
// against the ring: 0.25 mm on 20 mm within 1e-3, where the reflected resistance peaks and beyond.
TEST(HalfSpace, ThinShortedRingNearALoop) {
  const reference::Torus ring{.020, .00025};
  const double mutual = reference::mutual_inductance(.030, ring.mean_radius, .010);
  const double resistance = reference::torus_resistance_solid(ring, 1.724e-8);
  const double own = reference::torus_inductance(ring, reference::Spread::inverse_radius);
  for (const double hertz : {50., 1000., 5000.}) {
    const Complex expected = reference::reflected_by_short(mutual, resistance, own, hertz);
    const Complex found = change_by_short(ring, hertz);
    SCOPED_TRACE(hertz);
    expect_relative(found.real(), expected.real(), 1e-3);
    expect_relative(found.imag(), expected.imag(), 1e-3);
  }
}

// The same of 1 mm wire. Source: the same thin-wire formula, evaluated; its neglect of
// (section/mean radius)^2 = 2.5e-3 leaves 3e-3, and at 1 kHz the skin 5e-3.
TEST(HalfSpace, ShortedRingNearALoop) {
  for (const auto& [hertz, microohm, nH, tolerance] : {std::tuple{50., .080269448, -.0097298, 3e-3},
                                                       {200., 1.2570083, -.15236764, 3e-3},
                                                       {1000., 20.350144, -2.4667326, 5e-3}}) {
    const Complex found = change_by_short({.020, .001}, hertz);
    SCOPED_TRACE(hertz);
    expect_relative(found.real(), 1e-6 * microohm, tolerance);
    expect_relative(inductance(found, {hertz}), 1e-9 * nH, tolerance);
  }
}

}  // namespace
}  // namespace cw::published
