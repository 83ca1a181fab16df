// The winding sheet of a feed choke.
#include "cases/design/choke_sheet.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "materials/usual_parts.hpp"

namespace cw::cases {
namespace {

/// A run whose chokes carry half of this current each, with that ripple [A].
Result run_with(double supply, double ripple) {
  Result result;
  StateResult state;
  state.supply.emplace().current = supply;
  result.states = {state};
  LimitResult peak;
  peak.part = "feed choke";
  peak.quantity = "current_peak_A";
  peak.value = supply / 2 + ripple / 2;
  result.limits = {peak};
  return result;
}

Choke choke_of(double inductance) {
  Choke choke;
  choke.inductance = inductance;
  return choke;
}

// Source: ASTM B258, from memory: AWG 36 is 5 mil and AWG 0000 460 mil, the others in geometric
// steps between them; AWG 10 is 101.9 mil.
TEST(ChokeSheet, GaugesAreThoseOfTheStandard) {
  EXPECT_NEAR(gauge_diameter(36), 5 * 25.4e-6, 1e-12);
  EXPECT_NEAR(gauge_diameter(-3), 460 * 25.4e-6, 1e-9);
  EXPECT_NEAR(gauge_diameter(10), 101.9 * 25.4e-6, 2e-6);
}

// Property: the winding keeps the inductance at the current, its copper carries no more than 5
// A/mm2, and one gauge thinner would carry more; it fits into the hole.
TEST(ChokeSheet, KeepsInductanceAndCurrentDensity) {
  int wound = 0;
  for (const double inductance : {47e-6, 150e-6, 470e-6})
    for (const double supply : {4.0, 12.0, 30.0}) {
      const auto sheet = choke_sheet(run_with(supply, 2.0), choke_of(inductance));
      if (!sheet) continue;
      ++wound;
      EXPECT_GE(sheet->wound.biased_H, inductance);
      const auto density = [&](int gauge) {
        return supply / 2 /
               (sheet->wires * std::numbers::pi * std::pow(gauge_diameter(gauge), 2) / 4);
      };
      EXPECT_LE(density(sheet->gauge), 5e6 * (1 + 1e-9)) << words_of(*sheet);
      EXPECT_GT(density(sheet->gauge + 1), 5e6);
      EXPECT_LE(sheet->wound.hole_fill, 0.95 * sheet->layers);
      EXPECT_LE(sheet->layers, 2);
    }
  EXPECT_GE(wound, 7);
}

// Property: no smaller ring of the list takes it; more current takes no smaller ring.
TEST(ChokeSheet, TakesTheSmallestRing) {
  const auto small = choke_sheet(run_with(6, 1.0), choke_of(100e-6));
  const auto large = choke_sheet(run_with(24, 1.0), choke_of(100e-6));
  ASSERT_TRUE(small && large);
  EXPECT_LT(small->ring.outer, large->ring.outer);
  EXPECT_GT(large->ring.outer, powder_rings.front().outer);
}

// Property: where no ring is large enough, or no current is known, there is no sheet.
TEST(ChokeSheet, IsEmptyWhereNothingFits) {
  EXPECT_FALSE(choke_sheet(run_with(60, 4.0), choke_of(10e-3)));
  EXPECT_FALSE(choke_sheet(Result{}, choke_of(100e-6)));
  EXPECT_FALSE(choke_sheet(run_with(10, 1.0), Choke{}));
}

}  // namespace
}  // namespace cw::cases
