#include "postproc/picture/canvas.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/field_samples.hpp"
#include "postproc/picture/flux_lines.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/outlines.hpp"
#include "postproc/picture/png.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

using std::numbers::pi;

double darkness(const cw::Raster& raster) {
  double sum = 0.0;
  for (int row = 0; row < raster.height; ++row) {
    for (int column = 0; column < raster.width; ++column)
      sum += 1.0 - raster.pixel(column, row)[1] / 255.0;
  }
  return sum;
}

// Property: the map never gets lighter towards larger values and falls evenly, so grey print keeps
// the order.
TEST(ColourMap, LightnessFallsOnAStraightLine) {
  const double first = cw::lightness(cw::field_colour(0.0)),
               last = cw::lightness(cw::field_colour(1.0));
  EXPECT_GT(first, 0.97);
  EXPECT_LT(last, 0.3);
  for (int i = 0; i <= 100; ++i) {
    const double t = i / 100.0;
    EXPECT_NEAR(cw::lightness(cw::field_colour(t)), first + t * (last - first), 0.006) << t;
  }
}

// Property: the map of temperatures gets brighter throughout, by the same amount every tenth within
// a third, and is never as dark as ink: hot is bright, also in grey print.
TEST(ColourMap, HotIsBright) {
  double before = cw::lightness(cw::heat_colour(0.0));
  EXPECT_GT(before, 0.15);
  const double step = 0.1 * (cw::lightness(cw::heat_colour(1.0)) - before);
  for (int i = 1; i <= 10; ++i) {
    const double now = cw::lightness(cw::heat_colour(0.1 * i));
    EXPECT_NEAR(now - before, step, 0.34 * step) << i;
    before = now;
  }
  EXPECT_GT(before, 0.95);
}

// Property: the scale of lightness is the one published: white is 1, black 0, pure sRGB blue 0.452.
// Source: B. Ottosson, "A perceptual color space for image processing", 2020 (from memory).
TEST(ColourMap, LightnessOfKnownColours) {
  EXPECT_NEAR(cw::lightness({255, 255, 255}), 1.0, 1e-6);
  EXPECT_NEAR(cw::lightness({0, 0, 0}), 0.0, 1e-12);
  EXPECT_NEAR(cw::lightness({0, 0, 255}), 0.452, 1e-3);
}

// Property: base64 is that of RFC 4648, section 10 (its test vectors).
TEST(Png, Base64) {
  EXPECT_EQ(cw::base64(""), "");
  EXPECT_EQ(cw::base64("f"), "Zg==");
  EXPECT_EQ(cw::base64("fo"), "Zm8=");
  EXPECT_EQ(cw::base64("foobar"), "Zm9vYmFy");
}

// Property: filling covers the area of the shape, whole and in part, with holes by the even-odd
// rule.
TEST(Canvas, FillCoversTheArea) {
  cw::Canvas canvas{40.0, 30.0, {}};
  cw::Drawn ring{{}, true, cw::Colour{0, 0, 0}, {}};
  for (const double radius : {12.3, 6.1}) {
    cw::Line circle;
    for (int i = 0; i < 200; ++i)
      circle.push_back(
          {20.2 + radius * std::cos(pi * i / 100), 15.4 + radius * std::sin(pi * i / 100)});
    ring.lines.push_back(circle);
  }
  canvas.items.emplace_back(ring);
  EXPECT_NEAR(darkness(cw::raster_of(canvas, 1.0)), pi * (12.3 * 12.3 - 6.1 * 6.1), 1.5);
}

// Property: a line leaves as much ink as its length times its width plus its round ends, and of a
// dashed one every other stretch is a line of its own.
TEST(Canvas, StrokeCoversLengthTimesWidth) {
  cw::Canvas full{220.0, 20.0, {}}, dashed{220.0, 20.0, {}};
  full.line({{10.0, 10.3}, {210.0, 10.3}}, {{0, 0, 0}, 2.0, {}});
  dashed.line({{10.0, 10.3}, {210.0, 10.3}}, {{0, 0, 0}, 2.0, 10.0});
  EXPECT_NEAR(darkness(cw::raster_of(full, 1.0)), 400.0 + pi, 1.0);
  EXPECT_NEAR(darkness(cw::raster_of(dashed, 1.0)), 10.0 * (20.0 + pi), 5.0);
}

// Property: signs beyond ASCII are drawn, each from one character of text and not from its bytes.
TEST(Letters, DrawsSignsBeyondAscii) {
  for (const char* sign : {"\u00d8", "\u00b5", "\u00b0", "\u03a9", "\u00b3", "\u2265", "\u2026"}) {
    const cw::Letters letters = cw::render_letters(sign, 40.0, false);
    EXPECT_TRUE(std::any_of(letters.coverage.begin(), letters.coverage.end(), [](auto c) {
      return c > 200;
    })) << sign;
    EXPECT_LT(letters.width, 50) << sign;
  }
}

// Property: a capital rests on the base line and a descender extends below it.
TEST(Letters, StandOnTheBaseLine) {
  const auto lowest = [](const cw::Letters& l) {
    const auto last =
        std::find_if(l.coverage.rbegin(), l.coverage.rend(), [](auto c) { return c > 127; });
    return l.height - static_cast<int>(last - l.coverage.rbegin()) / l.width;
  };
  const cw::Letters capital = cw::render_letters("H", 40.0, false),
                    descender = cw::render_letters("g", 40.0, false);
  EXPECT_EQ(lowest(capital), capital.base);
  EXPECT_GT(lowest(descender), descender.base + 4);
}

double area(const std::vector<cw::Point>& loop) {
  double sum = 0.0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const cw::Point a = loop[i], b = loop[(i + 1) % loop.size()];
    sum += 0.5 * (a.r * b.z - b.r * a.z);
  }
  return sum;
}

// Property: the outline of a tube is two loops, the outer counter-clockwise and the bore clockwise,
// whose areas differ by that of the metal, pi (R^2 - b^2).
TEST(Outlines, OfATube) {
  const double radius = 3e-3, bore = 2e-3;
  cw::Section section;
  section.regions.push_back({"turn.1", cw::Disc{{20e-3, 0.0}, radius, bore}});
  const auto loops = cw::outlines(cw::generate_mesh(section), 1);
  ASSERT_EQ(loops.size(), 2U);
  const double sum = area(loops[0]) + area(loops[1]);
  EXPECT_NEAR(sum / (pi * (radius * radius - bore * bore)), 1.0, 2e-3);
  EXPECT_LT(area(loops[0]) * area(loops[1]), 0.0);
}

// Property: hatch lines of spacing s have total length area / s, and stay out of holes.
TEST(Hatching, CoversTheAreaEvenly) {
  const std::vector<cw::Line> frame = {{{0, 0}, {100, 0}, {100, 80}, {0, 80}},
                                       {{30, 20}, {60, 20}, {60, 50}, {30, 50}}};
  double length = 0.0;
  for (const auto& line : cw::hatching(frame, 2.0)) {
    length += std::hypot(line[1].x - line[0].x, line[1].y - line[0].y);
    const cw::Spot middle{0.5 * (line[0].x + line[1].x), 0.5 * (line[0].y + line[1].y)};
    EXPECT_FALSE(middle.x > 30 && middle.x < 60 && middle.y > 20 && middle.y < 50);
  }
  EXPECT_NEAR(length, (100.0 * 80.0 - 30.0 * 30.0) / 2.0, 0.01 * length);
}

// Property: in a uniform axial field flux lines are straight and upright, at radii that enclose
// equal steps of flux: r_k = R sqrt((k + 1/2) / n). Source: flux through a disc, 2 pi r A = pi r^2
// B (closed form).
TEST(FluxLines, OfAUniformField) {
  const cw::Mesh mesh = cw::sample::mesh();
  const double radius = 16e-3;
  const int count = 8;
  for (const double phase : {0.0, 2.0}) {
    const auto field =
        cw::sample::field(mesh, [&](double r, double) { return std::polar(0.01 * r, phase); });
    const auto lines =
        cw::flux_lines(mesh, field, {radius, -14e-3, 14e-3}, {phase, count, 0.05e-3});
    ASSERT_EQ(lines.size(), static_cast<std::size_t>(count));
    for (std::size_t k = 0; k < lines.size(); ++k) {
      const double expected = radius * std::sqrt((static_cast<double>(k) + 0.5) / count);
      for (const cw::Point p : lines[k]) EXPECT_NEAR(p.r, expected, 1e-6);
      EXPECT_NEAR(std::abs(lines[k].front().z - lines[k].back().z), 28e-3, 1e-9);
    }
  }
}

// Property: every pixel of the meshed window finds its triangle, curved ones included, and reads
// the right field.
TEST(FieldSamples, LeaveNoGaps) {
  cw::Section section;
  section.regions.push_back({"turn.1", cw::Disc{{20e-3, 0.0}, 3e-3, 2e-3}, 0.2e-3});
  const cw::Mesh mesh = cw::generate_mesh(section);
  const auto field = cw::sample::field(
      mesh, [](double r, double) { return std::complex<double>(0.005 * r, 0.0); });
  const auto samples = cw::sample_field({mesh, field}, {26e-3, -6e-3, 6e-3}, 0.05e-3);
  std::size_t metal = 0;
  for (std::size_t i = 0; i < samples.region.size(); ++i) {
    EXPECT_GE(samples.region[i], 0) << "pixel " << i;
    EXPECT_NEAR(samples.flux_rms[i], 0.01, 1e-6);
    if (samples.region[i] == 1) ++metal;
  }
  EXPECT_NEAR(static_cast<double>(metal) * 0.05e-3 * 0.05e-3 / (pi * 5e-6), 1.0, 0.01);
}

// Property: beside a thin skin the power in a picture of a heating run is the field's own at each
// place, never the pale nothing that a parabola through nodal values of a steep decay dips to.
TEST(FieldSamples, PowerOfAHeatingRunIsTheFields) {
  const cw::Mesh mesh = cw::sample::mesh();
  const auto field = cw::sample::field(
      mesh, [](double r, double) { return std::complex<double>(r * std::exp(3e3 * r), 0.0); });
  cw::LocalHeat heat;
  heat.kelvin.assign(mesh.triangles.size(), {});
  heat.power_density.assign(mesh.triangles.size(), {});
  for (auto& nodes : heat.kelvin) nodes.fill(400.0);
  for (auto& nodes : heat.power_density) nodes = {1e6, 1.0, 1.0, 1.0, 1.0, 1.0};
  const cw::Window window{5e-3, -9e-3, 9e-3};
  const auto plain = cw::sample_field({mesh, field}, window, 0.07e-3);
  const auto heated = cw::sample_field({mesh, field, &heat}, window, 0.07e-3);
  ASSERT_FALSE(plain.region.empty());
  for (std::size_t i = 0; i < plain.region.size(); ++i) {
    ASSERT_EQ(plain.region[i], 1);
    EXPECT_EQ(heated.power_density[i], plain.power_density[i]);
    EXPECT_NEAR(heated.celsius[i], 126.85, 1e-3);
  }
}

// Property: the mean flux of air at nodes is that of a field that has no jumps: A = c r z, B = (-c
// r, 2 c z) (curl in cylindrical coordinates, closed form).
TEST(FieldSamples, MeanFluxOfASmoothField) {
  const cw::Mesh mesh = cw::sample::mesh();
  const auto field =
      cw::sample::field(mesh, [](double r, double z) { return std::complex<double>(3.0 * r * z); });
  const cw::NodalFlux flux = cw::mean_flux_in_air(mesh, field);
  std::size_t met = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (const int n : mesh.triangles[t]) {
      if (mesh.region[t] != 0) continue;
      const cw::Point p = mesh.nodes[static_cast<std::size_t>(n)];
      EXPECT_NEAR(flux[static_cast<std::size_t>(n)][0].real(), -3.0 * p.r, 1e-12);
      EXPECT_NEAR(flux[static_cast<std::size_t>(n)][1].real(), 6.0 * p.z, 1e-12);
      ++met;
    }
  EXPECT_GT(met, 1000U);
}

// Property: text without ink has a size and no ink: no pixel outside VTK's image is read.
TEST(Letters, BlanksHaveNoInk) {
  for (const char* text : {" ", "\xc2\x9b", "\x1b", "\xe2\x80\xae"})
    for (const double size : {11.0, 44.0}) {
      const cw::Letters letters = cw::render_letters(text, size, false);
      EXPECT_EQ(letters.coverage.size(),
                static_cast<std::size_t>(letters.width) * static_cast<std::size_t>(letters.height));
    }
}

}  // namespace
