#include "postproc/making/coil_outline.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <sstream>

#include "tests/unit/postproc/sample_case.hpp"

namespace {

/// The drawing read back: entities as their group codes, in order; later codes of a kind win.
struct Drawing {
  std::string version;
  std::vector<std::pair<std::string, std::map<int, std::string>>> entities;
  bool ended = false;
};

Drawing read_back(const std::string& text) {
  std::istringstream stream(text);
  std::string code, value, section, variable;
  Drawing drawing;
  while (std::getline(stream, code) && std::getline(stream, value)) {
    const int number = std::stoi(code);
    if (number == 0 && value == "EOF") drawing.ended = true;
    if (number == 2 && (value == "ENTITIES" || value == "TABLES" || value == "HEADER"))
      section = value;
    if (number == 9) variable = value;
    if (number == 1 && variable == "$ACADVER") drawing.version = value;
    if (section != "ENTITIES" || value == "ENTITIES") continue;
    if (number == 0)
      drawing.entities.push_back({value, {}});
    else
      drawing.entities.back().second[number] = value;
  }
  return drawing;
}

// Property: the DXF, read back, has both walls of every turn on both sides of the axis at their
// places in millimetres, and the former.
TEST(CoilOutline, DxfHoldsEveryTurnAtFullSize) {
  const cw::Result result = cw::sample::full_result();
  const Drawing drawing = read_back(cw::coil_dxf(cw::coil_outline(result)));
  EXPECT_EQ(drawing.version, "AC1009");
  EXPECT_TRUE(drawing.ended);
  const auto has_circle = [&](const char* layer, double x, double y, double radius) {
    return std::any_of(drawing.entities.begin(), drawing.entities.end(), [&](const auto& e) {
      const auto value = [&](int code) { return std::stod(e.second.at(code)); };
      return e.first == "CIRCLE" && e.second.at(8) == layer && std::abs(value(10) - x) < 1e-5 &&
             std::abs(value(20) - y) < 1e-5 && std::abs(value(40) - radius) < 1e-5;
    });
  };
  for (const auto& turn : result.states[0].coil.turns)
    for (const double side : {-1e3, 1e3}) {
      EXPECT_TRUE(has_circle("COIL", side * turn.r, 1e3 * turn.z, 2.95));
      EXPECT_TRUE(has_circle("BORE", side * turn.r, 1e3 * turn.z, 1.85));
    }
  const auto formers = std::count_if(
      drawing.entities.begin(), drawing.entities.end(),
      [](const auto& e) { return e.second.contains(8) && e.second.at(8) == "FORMER"; });
  EXPECT_EQ(formers, 1);
}

// Property: the work is drawn with its profile on both sides of the axis, not as a box: a bolt of 9
// mm under a head of 18 mm has the underside of the head, 4.5 mm wide, on either side.
TEST(CoilOutline, WorkHasItsProfile) {
  cw::Result result = cw::sample::full_result();
  result.heater->workpiece->outline.profile = {{0.0, -0.02}, {0.0045, -0.02}, {0.0045, 0.0},
                                               {0.009, 0.0}, {0.009, 0.006},  {0.0, 0.006}};
  int undersides = 0, on_axis = 0;
  for (const cw::OutlinePiece& p : cw::coil_outline(result)) {
    if (std::string(p.layer) != "WORK") continue;
    undersides += p.y == 0.0 && p.to_y == 0.0 && std::abs(std::abs(p.to_x - p.x) - 0.0045) < 1e-12;
    on_axis += p.x == 0.0 && p.to_x == 0.0;
  }
  EXPECT_EQ(undersides, 2);
  EXPECT_EQ(on_axis, 0);
}

// Property: the template's millimetres are millimetres of paper: its view box has the numbers of
// its width and height, and the check line is 50 long.
TEST(CoilOutline, TemplateIsAtFullSize) {
  const std::string svg = cw::coil_template(cw::coil_outline(cw::sample::full_result()));
  const auto after = [&](const std::string& key) {
    return svg.substr(svg.find(key) + key.size(),
                      svg.find('"', svg.find(key) + key.size()) - svg.find(key) - key.size());
  };
  const std::string width = after("width=\""), height = after("height=\"");
  ASSERT_TRUE(width.ends_with("mm") && height.ends_with("mm"));
  EXPECT_EQ(after("viewBox=\""),
            "0 0 " + width.substr(0, width.size() - 2) + " " + height.substr(0, height.size() - 2));
  EXPECT_NE(svg.find("h50"), std::string::npos);
  EXPECT_NE(svg.find("r=\"2.950\""), std::string::npos);
}

// Property: the template states bore, outside, length, pitch, former and bend radius of the coil in
// mm, and the dimension line of the bore has its stated length on paper: two points 29.1 mm apart.
TEST(CoilOutline, TemplateHasItsSizes) {
  const cw::Result result = cw::sample::full_result();
  const auto& turns = result.states[0].coil.turns;
  ASSERT_GT(turns.size(), 1U);
  const double inside = 1e3 * (turns[0].r - 2.95e-3);
  const cw::TemplateNotes notes = cw::template_notes(result);
  const auto bore = std::find_if(notes.sizes.begin(), notes.sizes.end(),
                                 [](const auto& size) { return size.words.starts_with("bore"); });
  ASSERT_NE(bore, notes.sizes.end());
  EXPECT_NEAR(1e3 * (bore->to_x - bore->from_x), 2.0 * inside, 1e-9);
  const std::string svg = cw::coil_template(cw::coil_outline(result), notes);
  for (const char* words : {">bore \u00d8 ", ">outside \u00d8 ", ">length ", ">pitch ",
                            "bend radius of the middle", "former \u00d8 "})
    EXPECT_NE(svg.find(words), std::string::npos) << words;
}

}  // namespace
