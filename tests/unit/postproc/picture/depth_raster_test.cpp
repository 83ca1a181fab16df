#include "postproc/picture/depth_raster.hpp"

#include <gtest/gtest.h>

#include "postproc/picture/colour_map.hpp"

namespace {

/// Covers the pixels left of x = 8 of a raster of 16 x 16.
std::array<cw::SeenCorner, 3> left_half(double nearness, double share) {
  return {
      {{-8.0, -8.0, nearness, share}, {8.0, 8.0, nearness, share}, {-8.0, 24.0, nearness, share}}};
}

int red_at(const cw::Raster& raster, int column, int row) {
  return raster.pixel(column, row)[0];
}

}  // namespace

// Of two faces at a pixel the nearer one shows, whichever came first; nothing stays clear.
TEST(DepthRaster, TheNearerShows) {
  for (const bool near_first : {true, false}) {
    cw::DepthRaster raster(16, 16);
    raster.face(left_half(near_first ? 2.0 : 1.0, near_first ? 1.0 : 0.0), 1.0);
    raster.face(left_half(near_first ? 1.0 : 2.0, near_first ? 0.0 : 1.0), 1.0);
    const cw::Raster seen = raster.reduced(1);
    EXPECT_NEAR(red_at(seen, 1, 8), cw::field_colour(1.0).red, 5);
    EXPECT_EQ(seen.pixel(1, 8)[3], 255);
    EXPECT_EQ(seen.pixel(15, 8)[3], 0);
  }
}

// Two triangles that share an edge leave no pixel of their square open.
TEST(DepthRaster, NoPinholes) {
  cw::DepthRaster raster(16, 16);
  const cw::SeenCorner a{1.3, 1.7, 0, 0.5}, b{14.1, 2.2, 0, 0.5}, c{13.7, 14.4, 0, 0.5},
      d{1.9, 13.6, 0, 0.5};
  raster.face({a, b, c}, 1.0);
  raster.face({a, c, d}, 1.0);
  const cw::Raster seen = raster.reduced(1);
  for (int row = 3; row < 13; ++row)
    for (int column = 3; column < 13; ++column) EXPECT_EQ(seen.pixel(column, row)[3], 255);
}

// A thing without a value is grey, not the palest colour of the scale; a face turned away is
// darker.
TEST(DepthRaster, GreyAndShade) {
  cw::DepthRaster raster(16, 16), darker(16, 16);
  raster.face(left_half(0.0, -1.0), 1.0);
  darker.face(left_half(0.0, -1.0), 0.5);
  const int grey = red_at(raster.reduced(1), 1, 8);
  EXPECT_LT(grey, cw::field_colour(0.0).red - 10);
  EXPECT_NEAR(red_at(darker.reduced(1), 1, 8), grey / 2, 5);
}

// A line on a surface shows; behind it, it does not.
TEST(DepthRaster, LinesAreHidden) {
  for (const double depth : {0.0, -10.0}) {
    cw::DepthRaster raster(16, 16);
    raster.face(left_half(0.0, 0.0), 1.0);
    raster.line({1.0, 8.0, depth, 0.0}, {6.0, 8.0, depth, 0.0}, 1.5);
    EXPECT_EQ(red_at(raster.reduced(1), 3, 8) < 100, depth == 0.0);
  }
}
