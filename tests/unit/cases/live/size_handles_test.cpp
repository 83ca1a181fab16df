#include "cases/live/size_handles.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "cases/live/case_fields.hpp"
#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

std::string case_with(const std::string& coil, const std::string& work) {
  return "[coil]\nconductor = { tube = \"6 mm\", wall = \"1 mm\" }\n" + coil +
         "\n[drive]\nkind = \"current\"\nfrequency = \"20 kHz\"\nrms = \"100 A\"\n"
         "[workpiece]\nmaterial = \"aluminium-6061-t6\"\n" +
         work;
}

const std::string rod = "diameter = \"20 mm\"\nlength = \"5 cm\"\n";
const std::string helix = "turns = 6\nbore = \"30 mm\"\npitch = \"9 mm\"";

SizeDrawing drawing_of(const std::string& text) {
  return size_drawing(read_case_text(text, "case.toml"), text);
}

std::vector<std::string> keys_of(const SizeDrawing& drawing) {
  std::vector<std::string> keys;
  for (const SizeHandle& handle : drawing.handles) keys.push_back(handle.key);
  std::ranges::sort(keys);
  return keys;
}

/// Where the handle is in the half-plane [m], to the right and upwards.
Point place_of(const SizeDrawing& drawing, const std::string& key) {
  const auto found = std::ranges::find(drawing.handles, key, &SizeHandle::key);
  EXPECT_NE(found, drawing.handles.end()) << key;
  if (found == drawing.handles.end()) return {};
  const Frame& f = drawing.frame;
  return {(found->at.x - f.axis()) / f.scale, f.window.top - (found->at.y - f.top) / f.scale};
}

/// Pulls every handle by a step, reads the changed case and draws it anew: each handle has followed
/// the pointer.
void expect_followed(const std::string& text) {
  const SizeDrawing before = drawing_of(text);
  ASSERT_FALSE(before.handles.empty());
  for (const SizeHandle& h : before.handles) {
    const double points = h.step / h.per_point;
    const auto changed =
        with_field(text, h.key,
                   h.unit.empty() ? fmt::format("{}", h.number + h.step)
                                  : fmt::format("{} {}", h.number + h.step, h.unit));
    ASSERT_TRUE(changed) << h.key;
    const Point was = place_of(before, h.key), is = place_of(drawing_of(*changed), h.key);
    const double way = h.upright ? was.z - is.z : is.r - was.r;  // points run downwards
    EXPECT_NEAR(way, points / before.frame.scale, 1e-9) << h.key << *changed;
  }
}

// Second method: the changed case, read and drawn anew.
TEST(SizeHandles, FollowThePointer) {
  expect_followed(case_with(helix, rod));
  expect_followed(
      case_with("turns = 6\nbore = \"30 mm\"\ngap = \"3 mm\"", rod + "centre = \"10 mm\"\n"));
  expect_followed(case_with(helix, rod + "insertion = \"30 mm\"\n"));
  expect_followed(case_with("shape = \"flat\"\nturns = 5\nbore = \"30 mm\"\npitch = \"9 mm\"",
                            rod + "centre = \"-40 mm\"\n"));
}

// Property: what a case leaves out or writes otherwise has no handle; the place of the work has.
TEST(SizeHandles, AreThoseOfTheText) {
  EXPECT_EQ(keys_of(drawing_of(case_with(helix, rod))),
            (std::vector<std::string>{"coil.bore", "coil.pitch", "coil.turns", "workpiece.centre",
                                      "workpiece.diameter", "workpiece.length"}));
  EXPECT_EQ(
      keys_of(drawing_of(case_with(
          "shape = \"rings\"\nring = [{ r = \"20 mm\", z = \"0 mm\" }]",
          "profile = [[\"0 mm\", \"-9 mm\"], [\"9 mm\", \"0 mm\"], [\"0 mm\", \"9 mm\"]]\n"))),
      std::vector<std::string>{});
}

// Property: steps are half a millimetre in the unit of the case, and whole turns.
TEST(SizeHandles, StepAsAMakerMeasures) {
  const SizeDrawing drawing = drawing_of(case_with(helix, rod));
  const auto step = [&](const char* key) {
    return std::ranges::find(drawing.handles, key, &SizeHandle::key)->step;
  };
  EXPECT_NEAR(step("coil.bore"), 0.5, 1e-12);
  EXPECT_NEAR(step("workpiece.length"), 0.05, 1e-12);
  EXPECT_EQ(step("coil.turns"), 1.0);
}

}  // namespace
}  // namespace cw::cases
