#include "cases/run/remedied_case.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "cases/read/read_case.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

class RemediedCase : public testing::Test {
 protected:
  void SetUp() override { fs::create_directories(folder_ / "out"); }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] Case written(const std::string& text) const {
    std::ofstream(folder_ / "case.toml") << text;
    return read_case(folder_ / "case.toml");
  }
  /// The case with a remedy of these steps, read again.
  [[nodiscard]] Case remedied(const std::string& text, std::vector<Remedy::Step> steps) {
    const Case own = written(text);
    Remedy remedy;
    remedy.steps = std::move(steps);
    text_ = remedied_case(own, remedy, folder_ / "out");
    EXPECT_FALSE(text_.empty());
    return read_case_text(text_.empty() ? text : text_, folder_ / "out/remedy.toml", {});
  }
  std::string text_;
  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_remedied_" + std::to_string(::getpid()));
};

// A remedy finds values in every notation of a case: on lines of their own, between braces or by
// dotted keys; the old value stays as a comment.
TEST_F(RemediedCase, FindsValuesHoweverTheyAreWritten) {
  const std::string head = "title = \"Bar\"\n";
  const std::string lines = R"(
[workpiece]
material = "steel-low-carbon"
diameter = "20 mm"
length = "60 mm"
[coil]
turns = 6 # as wound
bore = "32 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
[tank]
capacitance = "2 uF"
cans = 10
dissipation_factor = 8e-4
[drive]
kind = "push-pull"
supply = "24 V"
supply_limit = "20 A"
limit_kind = "fold"
switch = { resistance = "10 mohm" }
[heat]
target = "800 degC"
until = "120 s"
)";
  const std::string braces = R"(
workpiece = { material = "steel-low-carbon", diameter = "20 mm", length = "60 mm" }
coil = { turns = 6, bore = "32 mm", pitch = "8 mm", conductor = { tube = "6 mm", wall = "1 mm" } } # as wound
tank = { capacitance = "2 uF", cans = 10, dissipation_factor = 8e-4 }
drive = { kind = "push-pull", supply_limit = "20 A", supply = "24 V", limit_kind = "fold", switch = { resistance = "10 mohm" } }
heat = { target = "800 degC", until = "120 s" }
)";
  const std::string dotted = R"(
workpiece.material = "steel-low-carbon"
workpiece.diameter = "20 mm"
workpiece.length = "60 mm"
coil.turns = 6
coil.bore = "32 mm"
coil.pitch = "8 mm"
coil.conductor = { tube = "6 mm", wall = "1 mm" }
tank = { capacitance = "2 uF", cans = 10, dissipation_factor = 8e-4 }
drive = { kind = "push-pull", supply = "24 V", supply_limit = "20 A", limit_kind = "fold", switch = { resistance = "10 mohm" } }
heat.target = "800 degC"
heat.until = "120 s"
)";
  for (const std::string& body : {lines, braces, dotted}) {
    const Case found = remedied(head + body, {{Knob::turns, 6, 9},
                                              {Knob::bore, 0.032, 0.0285},
                                              {Knob::cans, 10, 7},
                                              {Knob::supply, 24, 36},
                                              {Knob::time, 120, 240}});
    EXPECT_EQ(found.coil.turns, 9) << text_;
    EXPECT_NEAR(found.coil.bore, 0.0285, 1e-9);
    EXPECT_EQ(found.tank->cans, 7);
    EXPECT_NEAR(found.tank->capacitance, 1.4e-6, 1e-12);
    const auto& drive = std::get<PushPullDrive>(found.drive);
    EXPECT_NEAR(drive.supply, 36.0, 1e-9);
    EXPECT_NEAR(*drive.supply_limit, 20.0, 1e-9);
    EXPECT_NEAR(*found.heat->until, 240.0, 1e-9);
    EXPECT_NE(text_.find("instead of 6"), std::string::npos) << text_;
  }
}

}  // namespace
}  // namespace cw::cases
