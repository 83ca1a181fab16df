#include "postproc/picture/metals_chart.hpp"

#include <gtest/gtest.h>

#include <array>
#include <string>

#include "tests/unit/postproc/sample_metals.hpp"

namespace {

// Property: labels keep their order and their distance, stay inside, and stay put where there is
// room.
TEST(MetalsChart, LabelsAreSpread) {
  const std::vector<double> wanted{10.0, 11.0, 12.0, 50.0, 98.0, 99.0};
  const auto at = cw::spread_labels(wanted, 5.0, 0.0, 100.0);
  ASSERT_EQ(at.size(), wanted.size());
  for (std::size_t k = 1; k < at.size(); ++k) EXPECT_GE(at[k] - at[k - 1], 5.0 - 1e-12);
  EXPECT_NEAR(at[0], 6.0, 1e-12);  // three about their mean of 11
  EXPECT_NEAR(at[3], 50.0, 1e-12);
  EXPECT_LE(at.back(), 100.0 + 1e-12);
}

/// Open lines in one pen with this many points.
std::size_t lines_of(const cw::Canvas& canvas, std::size_t points) {
  std::size_t found = 0;
  for (const auto& item : canvas.items)
    if (const auto* drawn = std::get_if<cw::Drawn>(&item))
      for (const auto& line : drawn->lines)
        if (!drawn->closed && line.size() == points) ++found;
  return found;
}

// Property: every metal has a smooth line through all its points (six pieces between neighbours)
// and its name once; a long title stays on the sheet.
TEST(MetalsChart, OneNamedLinePerMetal) {
  auto all = cw::sample::metals();
  all.title = std::string(120, 'x');
  const cw::Canvas canvas = cw::metals_chart(all);
  EXPECT_EQ(lines_of(canvas, 6 * (all.frequencies.size() - 1) + 1), all.metals.size());
  const std::string svg = cw::svg_of(canvas);
  for (const auto& metal : all.metals) {
    const std::string name = ">" + metal.name + "<";
    EXPECT_NE(svg.find(name), std::string::npos) << name;
    EXPECT_EQ(svg.find(name), svg.rfind(name)) << name;
  }
  const auto raster = cw::raster_of(canvas, 1.0);
  for (int row = 0; row < raster.height; ++row)
    for (int column = raster.width - 4; column < raster.width; ++column)
      ASSERT_EQ(raster.pixel(column, row)[1], 255) << row;
}

// Property: between its points a line overshoots none of them, however it bends: the highest place
// of the line is that of its highest point.
TEST(MetalsChart, SmoothLinesDoNotOvershoot) {
  auto all = cw::sample::metals();
  all.metals.resize(1);
  for (std::size_t i = 0; i < 4; ++i) {
    all.metals[0].points[i].coil = all.metals[0].points[i].others = 0.5;
    all.metals[0].points[i].work = std::array{0.1, 9.0, 9.0, 0.4}[i];
  }
  for (const auto& item : cw::metals_chart(all).items) {
    const auto* drawn = std::get_if<cw::Drawn>(&item);
    if (drawn == nullptr || drawn->closed || drawn->lines[0].size() != 19) continue;
    const cw::Line& line = drawn->lines[0];
    for (const cw::Spot s : line) {
      EXPECT_GE(s.y, line[6].y - 1e-9);
      EXPECT_LE(s.y, line[0].y + 1e-9);
    }
    EXPECT_NEAR(line[9].y, line[6].y, 1e-9);  // level between two equal points
    return;
  }
  FAIL() << "no line of the metal";
}

}  // namespace
