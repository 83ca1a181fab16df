#include "solver/heater/conductor.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "mesh/planar/outline.hpp"

namespace cw {
namespace {

using std::numbers::pi;

const std::vector<AnySection> all = {
    RoundTube{6e-3, 1e-3}, RoundWire{2e-3}, RectangularBar{8e-3, 4e-3, {}},
    RectangularBar{8e-3, 4e-3, 1e-3}, StrandBundle{400, 0.1e-3, 3e-3, 1.05}};

Conductor of(const AnySection& section) {
  Conductor conductor;
  conductor.section = section;
  return conductor;
}

/// Area inside the outline, without the hollow [m2].
double drawn_area(const Disc& disc) {
  return pi * (disc.radius * disc.radius - disc.bore * disc.bore);
}
double drawn_area(const Polygon& polygon) {
  double whole = area(polygon.outline);
  for (const auto& hole : polygon.holes) whole += area(hole);  // clockwise: negative
  return whole;
}

// Metal and hollow of each section, computed by hand; the drawn and meshed shape has that metal. A
// bundle is drawn whole; its strands fill part of it and are longer by their lay.
TEST(Conductor, MetalIsWhatTheShapeHolds) {
  EXPECT_NEAR(of(all[0]).metal_area(), pi * (9e-6 - 4e-6), 1e-15);
  EXPECT_NEAR(of(all[1]).metal_area(), pi * 1e-6, 1e-15);
  EXPECT_NEAR(of(all[2]).metal_area(), 32e-6, 1e-15);
  EXPECT_NEAR(of(all[3]).metal_area(), 32e-6 - 6e-3 * 2e-3, 1e-15);
  EXPECT_NEAR(of(all[4]).metal_area(), 400 * pi / 4 * 1e-8 * 1.05, 1e-15);
  for (const AnySection& section : all) {
    const Conductor c = of(section);
    const double drawn =
        std::visit([](const auto& shape) { return drawn_area(shape); }, c.shape({0.02, 0.01}));
    if (c.strands() != nullptr) continue;
    EXPECT_NEAR(drawn, c.metal_area(), 1e-15) << c.kind();
  }
}

// What water runs through is what the wall leaves, and only hollow ones have it.
TEST(Conductor, OnlyHollowOnesCarryWater) {
  EXPECT_NEAR(of(all[0]).channel()->area, pi * 4e-6, 1e-15);
  EXPECT_NEAR(of(all[0]).channel()->wetted_perimeter, pi * 4e-3, 1e-15);
  EXPECT_NEAR(of(all[3]).channel()->area, 12e-6, 1e-15);
  EXPECT_NEAR(of(all[3]).channel()->wetted_perimeter, 16e-3, 1e-15);
  for (const AnySection& section : all)
    EXPECT_EQ(of(section).channel().has_value(), of(section).wall().has_value());
}

// Twice the size is twice the size in every direction, four times the metal of a massive one.
TEST(Conductor, ScalesAsAWhole) {
  for (const AnySection& section : all) {
    const Conductor c = of(section), big = c.scaled(2.0);
    EXPECT_DOUBLE_EQ(big.radial_size(), 2 * c.radial_size());
    EXPECT_DOUBLE_EQ(big.axial_size(), 2 * c.axial_size());
    EXPECT_DOUBLE_EQ(big.perimeter(), 2 * c.perimeter());
    if (c.strands() != nullptr) continue;
    EXPECT_NEAR(big.metal_area(), 4 * c.metal_area(), 1e-15);
  }
}

// Side by side along z the gap is the distance less the axial size; bars touch by their flat sides,
// round ones across the corner as well.
TEST(Conductor, GapIsWhatIsClear) {
  for (const AnySection& section : all) {
    const Conductor c = of(section);
    EXPECT_NEAR(c.gap(0.0, 10e-3), 10e-3 - c.axial_size(), 1e-15);
    EXPECT_NEAR(c.gap(-10e-3, 0.0), 10e-3 - c.radial_size(), 1e-15);
    EXPECT_LT(c.gap(0.0, 0.5 * c.axial_size()), 0.0);
  }
  EXPECT_NEAR(of(all[0]).gap(6e-3, 8e-3), 4e-3, 1e-15);
  EXPECT_NEAR(of(all[2]).gap(9e-3, 6e-3), 2e-3, 1e-15);
}

// The round conductor that replaces a section has its perimeter and its metal, so that it has the
// same resistance at direct current and for a thin skin. For a bundle its metal is divided by the
// lay twice: the strands are longer, and their section across the bundle is smaller.
TEST(Conductor, RoundEquivalentKeepsPerimeterAndMetal) {
  for (const AnySection& section : all) {
    const Conductor c = of(section);
    const RoundEquivalent round = c.equivalent();
    const double bore = round.wall > 0 ? round.outer_radius - round.wall : 0.0;
    const double metal = round.fill * pi * (round.outer_radius * round.outer_radius - bore * bore);
    EXPECT_NEAR(2 * pi * round.outer_radius, c.perimeter(), 1e-15) << c.kind();
    const double lay = c.strands() != nullptr ? c.strands()->lay : 1.0;
    EXPECT_NEAR(metal, c.metal_area() / (lay * lay), 1e-15) << c.kind();
  }
}

// A section is restored from its kind and sizes, which a result file stores; an unknown kind is
// taken for solid round.
TEST(Conductor, ComesBackFromKindAndSizes) {
  for (const AnySection& section : all) {
    const Conductor c = of(section), back = of(section_of(c.kind(), c.sizes()));
    EXPECT_EQ(back.kind(), c.kind());
    EXPECT_EQ(back.radial_size(), c.radial_size());
    EXPECT_EQ(back.axial_size(), c.axial_size());
    EXPECT_EQ(back.wall(), c.wall());
  }
  EXPECT_EQ(of(section_of("ribbon", {5e-3, 1e-3, {}, {}})).kind(), "wire");
}

}  // namespace
}  // namespace cw
