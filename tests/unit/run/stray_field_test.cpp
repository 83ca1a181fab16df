#include "solver/run/stray_field.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {
namespace {

const std::string coil_case = R"(
[coil]
turns = 8
bore = "54 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
[drive]
kind = "current"
frequency = "20 kHz"
rms = "200 A"
)";

std::string with_leads(const std::string& length) {
  std::string text = coil_case;
  return text.insert(text.find("[drive]"),
                     "leads = { length = \"" + length + "\", spacing = \"40 mm\" }\n");
}

/// Flux density on the axis of a ring [T/A], mu0 R^2/(2 (R^2 + z^2)^(3/2)): any text on
/// electromagnetism.
double ring_axis(double radius, double height) {
  return 0.5 * mu0 * radius * radius / std::pow(radius * radius + height * height, 1.5);
}

// The field on the axis of an empty coil is that of its rings, inside the mesh and beyond it. Rings
// of the same radius as the tube's centreline; the current crowds to the bore, hence a per cent.
TEST(StrayField, EmptyCoilOnItsAxis) {
  const Case subject = read_case_text(coil_case, "case.toml");
  const cw::Run run = run_case(subject, Effort::fast);
  const StrayField stray(subject, run.states.front());
  for (const double d : {0.02, 0.1, 0.3, 1.0}) {
    const double at = 0.5 * (7 * 8e-3 + 6e-3) + d;
    double expected = 0;
    for (const RingPlace& p : ring_places(subject.coil)) expected += 200 * ring_axis(p.r, at - p.z);
    // The tube's current sits nearer to the bore by up to a wall: (29/30)^2 of the moment.
    EXPECT_LT(stray.on_axis(d), expected * 1.001) << d;
    EXPECT_GT(stray.on_axis(d), expected * 0.91) << d;
  }
}

// The far field falls with the cube of the distance, and beside the coil it is half of that on the
// axis: a dipole.
TEST(StrayField, FarFieldIsADipole) {
  const Case subject = read_case_text(coil_case, "case.toml");
  const cw::Run run = run_case(subject, Effort::fast);
  const StrayField stray(subject, run.states.front());
  const double outside = 33e-3, end = 31e-3;
  const double axis = stray.on_axis(4 - end), beside = stray.beside(4 - outside);
  EXPECT_NEAR(axis / stray.on_axis(8 - end), 8.0, 0.02);
  EXPECT_NEAR(axis / beside, 2.0, 0.01);
}

// Leads widen the field beside the coil and leave none on the axis below what the coil makes.
TEST(StrayField, LeadsAddTheirOwn) {
  const Case bare = read_case_text(coil_case, "case.toml"),
             led = read_case_text(with_leads("300 mm"), "case.toml");
  const cw::Run a = run_case(bare, Effort::fast), b = run_case(led, Effort::fast);
  const double without = StrayField(bare, a.states.front()).beside(0.3);
  EXPECT_GT(StrayField(led, b.states.front()).beside(0.3), 1.02 * without);
}

// The keep-out distance is where the field meets the level, and the stricter level is farther.
TEST(StrayField, KeepOutMeetsTheLevel) {
  const Case subject = read_case_text(with_leads("100 mm"), "case.toml");
  const cw::Run run = run_case(subject, Effort::fast);
  const ExposureResult& e = run.result.exposure.value();
  const StrayField stray(subject, run.states.front());
  ASSERT_EQ(e.levels.size(), 2U);
  EXPECT_GT(e.levels[0].keep_out, e.levels[1].keep_out);
  for (const ExposureLevel& level : e.levels)
    EXPECT_NEAR(std::max(stray.on_axis(level.keep_out), stray.beside(level.keep_out)), level.level,
                1e-4 * level.level);
  EXPECT_NE(e.reference.find("ICNIRP 2010"), std::string::npos);
  EXPECT_NE(e.reference.find("local rule"), std::string::npos);
}

}  // namespace
}  // namespace cw::cases
