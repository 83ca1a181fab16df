#include "postproc/picture/metals_chart.hpp"

#include <gtest/gtest.h>

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

/// Lines in one pen with this many points.
std::size_t lines_of(const cw::Canvas& canvas, std::size_t points) {
  std::size_t found = 0;
  for (const auto& item : canvas.items)
    if (const auto* drawn = std::get_if<cw::Drawn>(&item))
      for (const auto& line : drawn->lines)
        if (!drawn->closed && line.size() == points) ++found;
  return found;
}

// Property: every metal has a line through all its points, inside the frame, and its name once; a
// long title stays on the sheet.
TEST(MetalsChart, OneNamedLinePerMetal) {
  auto all = cw::sample::metals();
  all.title = std::string(120, 'x');
  const cw::Canvas canvas = cw::metals_chart(all);
  EXPECT_EQ(lines_of(canvas, all.frequencies.size()), all.metals.size());
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

}  // namespace
