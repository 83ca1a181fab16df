#include "postproc/picture/picture_values.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "postproc/picture/grid_contours.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

/// Decodes base64; only what base64() writes.
std::string decoded_bytes(const std::string& text) {
  const std::string digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string bytes;
  unsigned group = 0;
  int bits = 0;
  for (const char c : text) {
    if (c == '=') break;
    group = group << 6U | static_cast<unsigned>(digits.find(c));
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes += static_cast<char>(group >> static_cast<unsigned>(bits) & 255U);
    }
  }
  return bytes;
}

// Property: a decoded value is within 0.011 %, half a step of the scale, over its six decades;
// smaller values become the smallest code, zero stays zero.
TEST(PictureValues, CodesKeepThreeFigures) {
  for (double value = 0.031; value > 0.031e-6; value *= 0.37)
    EXPECT_NEAR(cw::decoded(cw::coded(value, 0.031), 0.031) / value, 1.0, 1.1e-4) << value;
  EXPECT_EQ(cw::decoded(cw::coded(0.0, 1.0), 1.0), 0.0);
  EXPECT_NEAR(cw::decoded(cw::coded(1e-9, 1.0), 1.0), 1e-6, 1e-9);
  EXPECT_EQ(cw::decoded(cw::coded(2.0, 1.0), 1.0), 1.0);
}

// Property: samples of A = 5e-3 r (1 + z/0.1) T m rms are at their stated positions: B = (-dA/dz,
// dA/dr + A/r) (evaluated by hand) and the region there.
TEST(PictureValues, AreTheFieldAtTheirPlaces) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::field(mesh, [](double r, double z) {
    return std::complex<double>(5e-3 * r * (1.0 + z / 0.1), 0.0);
  });
  const cw::PictureInput input{mesh, field, "", 1.0, 0.0, "work coil", {}, {}};
  const auto json = nlohmann::json::parse(cw::picture_values(input));
  const int columns = json["columns"];
  const double step = json["step_mm"].get<double>() * 1e-3;
  const std::string regions = decoded_bytes(json["regions"]);
  const std::string codes = decoded_bytes(json["quantities"][0]["codes"]);
  const double top = json["quantities"][0]["top"];
  ASSERT_EQ(codes.size(), 2 * regions.size());
  ASSERT_EQ(regions.size(), json["columns"].get<std::size_t>() * json["rows"].get<std::size_t>());
  int read = 0;
  for (std::size_t i = 0; i < regions.size(); i += 23) {
    const auto width = static_cast<std::size_t>(columns), row = i / width;
    const double r = (static_cast<double>(i % width) + 0.5) * step;
    const double z =
        json["z_top_mm"].get<double>() * 1e-3 - (static_cast<double>(row) + 0.5) * step;
    if (r > 15.9e-3 || std::abs(z) > 13.9e-3) continue;
    const double flux = std::hypot(5e-3 * r / 0.1, 1e-2 * (1.0 + z / 0.1));
    const auto code =
        static_cast<std::uint16_t>(static_cast<unsigned char>(codes[2 * i]) +
                                   256U * static_cast<unsigned char>(codes[2 * i + 1]));
    EXPECT_NEAR(cw::decoded(code, top), 1e3 * flux, 2e-4 * 1e3 * flux);
    EXPECT_EQ(static_cast<int>(regions[i]), cw::sample::region_at(r, z)) << r << " " << z;
    ++read;
  }
  EXPECT_GT(read, 200);
}

// Property: the contour of a cone is a circle to within the bend of a cell, closed, of the length
// of its circumference.
TEST(GridContours, CircleOfACone) {
  cw::CornerGrid grid{101, 101, {}};
  for (int row = 0; row < 101; ++row)
    for (int column = 0; column < 101; ++column)
      grid.values.push_back(std::hypot(column - 50.0, row - 50.0));
  double length = 0.0;
  for (const auto& piece : cw::contour(grid, 30.3)) {
    for (const cw::Spot s : piece) EXPECT_NEAR(std::hypot(s.x - 50.0, s.y - 50.0), 30.3, 5e-3);
    length += std::hypot(piece[1].x - piece[0].x, piece[1].y - piece[0].y);
  }
  EXPECT_NEAR(length, 2.0 * std::numbers::pi * 30.3, 0.02);
}

// Property: the pieces of a contour are put end to end: one closed line of all of them round a
// cone, one open line from edge to edge over a slope; no cell at a hole has a piece.
TEST(GridContours, PiecesAreJoined) {
  cw::CornerGrid cone{101, 101, {}}, slope{101, 101, {}};
  for (int row = 0; row < 101; ++row)
    for (int column = 0; column < 101; ++column) {
      cone.values.push_back(std::hypot(column - 50.0, row - 50.0));
      slope.values.push_back(column + 0.3 * row);
    }
  const auto pieces = cw::contour(cone, 30.3);
  const auto round = cw::joined(pieces);
  ASSERT_EQ(round.size(), 1U);
  EXPECT_EQ(round[0].size(), pieces.size() + 1);
  EXPECT_EQ(round[0].front(), round[0].back());
  const auto across = cw::joined(cw::contour(slope, 60.0));
  ASSERT_EQ(across.size(), 1U);
  EXPECT_NEAR(std::abs(across[0].front().y - across[0].back().y), 100.0, 1e-9);
  slope.values[50 * 101 + 45] = std::nan("");  // on the line
  EXPECT_EQ(cw::joined(cw::contour(slope, 60.0)).size(), 2U);
}

}  // namespace
