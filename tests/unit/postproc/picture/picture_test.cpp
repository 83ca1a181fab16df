#include "postproc/picture/picture.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "mesh/generate.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/sheet.hpp"
#include "postproc/picture/stray_picture.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

using Kind = cw::DimensionLine::Kind;

struct Box {
  double left, top, right, bottom;
  std::string text;
};

/// Where letters are seen on the sheet: DejaVu's capitals are 0.73 em high, descenders 0.24 em deep
/// (measured from the rendered face).
Box box_of(const cw::Written& written) {
  const double width = cw::text_width(written.text, written.style);
  const double back = written.style.anchor == cw::Anchor::start    ? 0.0
                      : written.style.anchor == cw::Anchor::middle ? 0.5
                                                                   : 1.0;
  const double from = -back * width, to = from + width;
  const double up = 0.73 * written.style.size, down = 0.24 * written.style.size;
  const cw::Spot p = written.at;
  if (written.style.upright) return {p.x - up, p.y - to, p.x + down, p.y - from, written.text};
  return {p.x + from, p.y - up, p.x + to, p.y + down, written.text};
}

std::vector<Box> letters_of(const cw::Canvas& canvas) {
  std::vector<Box> boxes;
  for (const auto& item : canvas.items) {
    if (const auto* written = std::get_if<cw::Written>(&item)) boxes.push_back(box_of(*written));
  }
  return boxes;
}

void expect_readable(const cw::Canvas& canvas) {
  const auto boxes = letters_of(canvas);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    const Box& a = boxes[i];
    EXPECT_GE(a.left, 0.0) << a.text;
    EXPECT_GE(a.top, 0.0) << a.text;
    EXPECT_LE(a.right, canvas.width) << a.text;
    EXPECT_LE(a.bottom, canvas.height) << a.text;
    for (std::size_t k = i + 1; k < boxes.size(); ++k) {
      const Box& b = boxes[k];
      const bool apart =
          a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
      EXPECT_TRUE(apart) << "'" << a.text << "' lies over '" << b.text << "'";
    }
  }
}

/// A rod in a tube coil, with sizes [m].
struct Bench {
  double radius, length, centre, bore, tube;
  int turns;
};

void expect_readable(const Bench& b) {
  const double pitch = 1.25 * b.tube, end = 0.5 * (b.turns - 1) * pitch;
  const double skin = 0.2e-3;
  cw::Section section;
  section.regions.push_back(
      {"workpiece",
       cw::rectangle({0, b.centre - b.length / 2}, {b.radius, b.centre + b.length / 2}), skin});
  for (int i = 0; i < b.turns; ++i) {
    section.regions.push_back(
        {"turn." + std::to_string(i + 1),
         cw::Disc{{b.bore / 2 + b.tube / 2, -end + i * pitch}, b.tube / 2, b.tube / 3}, skin});
  }
  const cw::Mesh mesh = cw::generate_mesh(section);
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  const cw::Canvas canvas = cw::field_picture(
      {mesh,
       field,
       "Bench check",
       100.0,
       0.0,
       "work coil, 9 turns",
       {{"workpiece", "high-carbon steel bar"}},
       {{Kind::diameter, "bore", 0.0, b.bore / 2, end},
        {Kind::diameter, "workpiece", 0.0, b.radius, b.centre + b.length / 2},
        {Kind::length, "coil", -end - b.tube / 2, end + b.tube / 2, b.bore / 2},
        {Kind::length, "workpiece", b.centre - b.length / 2, b.centre + b.length / 2, b.radius}}});
  expect_readable(canvas);
}

// Property: for any shape of coil and work, no text overlaps another, and none leaves the sheet.
TEST(Picture, LetteringNeverOverlaps) {
  for (const Bench& bench :
       {Bench{7e-3, 160e-3, 50e-3, 32e-3, 6e-3, 8}, Bench{30e-3, 10e-3, 0.0, 70e-3, 6e-3, 3},
        Bench{2e-3, 6e-3, 0.0, 12e-3, 3e-3, 1}, Bench{10e-3, 1.0, 0.2, 40e-3, 6e-3, 5},
        Bench{40e-3, 30e-3, 5e-3, 100e-3, 8e-3, 10}}) {
    SCOPED_TRACE(::testing::Message()
                 << "workpiece radius " << bench.radius << ", turns " << bench.turns);
    expect_readable(bench);
  }
}

// Property: a title longer than the sheet is shortened, not run off it; characters stay whole.
TEST(Picture, LongTitleIsShortened) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  std::string title;
  for (int i = 0; i < 120; ++i) title += "\u00e9";
  expect_readable(cw::field_picture({mesh, field, title, 100.0, 0.0, "work coil", {}, {}}));
}

// Property: the picture names its quantities with units and rms, and needs no other file.
TEST(Picture, SvgIsSelfContained) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  const std::string svg =
      cw::svg_of(cw::field_picture({mesh,
                                    field,
                                    "A < B & \"C\"",
                                    100.0,
                                    0.0,
                                    "work coil",
                                    {},
                                    {{Kind::diameter, "bore", 0.0, 9e-3, 6e-3}}}));
  for (const char* words :
       {"A &lt; B &amp; &quot;C&quot;", "50.0 kHz, coil current 100 A rms",
        "flux density |B|, mT rms", "power density, W/cm\u00b3", "bore \u00d8 18", ">work coil<",
        ">workpiece<", "data:image/png;base64,iVBORw0KGgo"}) {
    EXPECT_NE(svg.find(words), std::string::npos) << words;
  }
  for (std::size_t at = svg.find("href="); at != std::string::npos;
       at = svg.find("href=", at + 1)) {
    EXPECT_EQ(svg.substr(at, 11), "href=\"data:");
  }
}

// Property: both halves mirror the same section: the frame is symmetric about the axis in the
// rendered picture.
TEST(Picture, LinesAreMirrored) {
  const cw::Mesh mesh = cw::sample::mesh();
  cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  for (auto& medium : field.media) medium.conductivity = 0.0;
  const cw::Canvas canvas = cw::field_picture({mesh, field, "", 1.0, 0.0, "", {}, {}});
  const auto* pasted = std::get_if<cw::Pasted>(&canvas.items.front());
  ASSERT_NE(pasted, nullptr);
  const double axis = pasted->corner.x + pasted->width / 2.0;
  const auto* lines = std::get_if<cw::Drawn>(&canvas.items[1]);
  ASSERT_NE(lines, nullptr);
  double sum = 0.0;
  std::size_t count = 0;
  for (const auto& line : lines->lines) {
    for (const auto& p : line) {
      sum += p.x - axis;
      ++count;
    }
  }
  ASSERT_GT(count, 100U);
  EXPECT_NEAR(sum / static_cast<double>(count), 0.0, 1e-9);
}

// Property: an isotherm is where the temperature is, T = 20 degC + 1e5 K/m r, so 420 degC at 4 mm
// on the left half, with a label in the margin; a body that does not get so hot has none.
TEST(Picture, IsothermsAreAtTheirTemperatures) {
  const cw::Mesh mesh = cw::sample::mesh();
  const cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  cw::LocalHeat heat;
  heat.power_density.assign(mesh.triangles.size(), {});
  heat.kelvin.resize(mesh.triangles.size());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (std::size_t k = 0; k < 6; ++k)
      heat.kelvin[t][k] =
          293.15 + 1e5 * mesh.nodes[static_cast<std::size_t>(mesh.triangles[t][k])].r;
  cw::PictureInput input{mesh, field, "Bench check", 100.0};
  input.left = cw::Shown::temperature;
  input.heat = &heat;
  input.celsius_top = 600.0;
  input.isotherms = {{"target", 420.0, "workpiece"}, {"Curie point", 560.0, "workpiece", true}};
  const cw::Canvas canvas = cw::field_picture(input);
  const std::string svg = cw::svg_of(canvas);
  EXPECT_NE(svg.find(">target 420 \u00b0C<"), std::string::npos);
  EXPECT_EQ(svg.find("Curie"), std::string::npos);
  expect_readable(canvas);
  const auto* pasted = std::get_if<cw::Pasted>(&canvas.items.front());
  ASSERT_NE(pasted, nullptr);
  const cw::Frame frame = cw::frame_of(input);
  const double expected = frame.spot({4e-3, 0.0}, -1).x;
  bool found = false;
  for (const auto& item : canvas.items) {
    const auto* drawn = std::get_if<cw::Drawn>(&item);
    if (drawn == nullptr || drawn->closed || drawn->lines.size() != 1) continue;
    const cw::Line& line = drawn->lines[0];
    if (line.size() < 100 || drawn->stroke->width != 2.8) continue;  // the rim of an isotherm
    found = true;
    for (const cw::Spot s : line) EXPECT_NEAR(s.x, expected, 0.3);
  }
  EXPECT_TRUE(found);
}

// Property: a skin thinner than a drawn line is shown magnified beside the section, one that is
// seen is not. At 50 kHz the sample's skin depth is 1 mm; with ten thousand times its conductivity
// a hundredth of that.
TEST(Picture, ThinSkinIsMagnified) {
  const cw::Mesh mesh = cw::sample::mesh();
  cw::FieldSolution field = cw::sample::uniform_field(mesh, 0.01);
  const auto shows = [&] {
    const cw::Canvas canvas = cw::field_picture({mesh, field, "Bench check", 100.0});
    expect_readable(canvas);
    return cw::svg_of(canvas).find("depth below the surface, mm") != std::string::npos;
  };
  EXPECT_FALSE(shows());
  for (auto& medium : field.media) medium.conductivity *= 1e4;
  EXPECT_TRUE(shows());
}

// Property: in the picture of the stray field every label is in a gap of its own line and touches
// no other line, body or label: the field of a dipole of 0.1 A m2, B = mu0 m/(4 pi r^3) ... (closed
// form A = mu0 m r / (4 pi R^3)).
TEST(Picture, StrayLabelsCrossNothing) {
  cw::Section section;
  section.regions.push_back({"turn.1", cw::Disc{{20e-3, 0.0}, 3e-3, 2e-3}, 0.5e-3});
  const cw::Mesh mesh = cw::generate_mesh(section);
  const auto field = cw::sample::field(mesh, [](double r, double z) {
    const double far = std::hypot(r, z) + 5e-3;
    return std::complex<double>(1e-7 * 2.0 * r / (far * far * far), 0.0);
  });
  const cw::Canvas canvas = cw::stray_picture({mesh, field, "", 100.0});
  std::size_t labels = 0;
  for (const auto& item : canvas.items) {
    const auto* written = std::get_if<cw::Written>(&item);
    if (written == nullptr || !written->text.ends_with(" \u00b5T")) continue;
    ++labels;
    const Box box = box_of(*written);
    for (const auto& other : canvas.items) {
      const auto* drawn = std::get_if<cw::Drawn>(&other);
      if (drawn == nullptr) continue;
      for (const cw::Line& line : drawn->lines)
        for (const cw::Spot s : line)
          EXPECT_FALSE(s.x > box.left && s.x < box.right && s.y > box.top && s.y < box.bottom)
              << box.text;
    }
  }
  EXPECT_GE(labels, 4U);
  expect_readable(canvas);
}

}  // namespace
