// What is dangerous about heating this very metal.
#include "postproc/result/hazards.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "materials/library.hpp"

namespace cw {
namespace {

/// A solid bar that came to a temperature [degC].
Result heated(const Material& metal, double hottest) {
  Result result;
  Workpiece& work = result.heater.emplace().workpiece.emplace();
  work.material = metal;
  work.outline.profile = {{0, 0}, {5e-3, 0}, {5e-3, 40e-3}, {0, 40e-3}};
  HeatResult& heat = result.heat.emplace();
  heat.bodies = {{"workpiece", {}}};
  heat.lines.emplace_back().bodies = {{0, hottest + zero_celsius, 0, {}}};
  return result;
}

bool has(const Result& result, const char* id) {
  const auto list = hazards(result);
  return std::ranges::any_of(list, [&](const Caution& c) { return c.id == id && c.triggered; });
}

// Brass has a hazard from the temperature at which its zinc evaporates, not when it is annealed;
// plain steel never.
TEST(Hazards, BeginAtTheirTemperature) {
  EXPECT_TRUE(has(heated(find_material("brass-c26000"), 1000), "zinc_fume"));
  EXPECT_FALSE(has(heated(find_material("brass-c26000"), 550), "zinc_fume"));
  EXPECT_TRUE(hazards(heated(find_material("steel-low-carbon"), 1200)).empty());
  EXPECT_TRUE(has(heated(find_material("titanium-6al4v"), 700), "titanium_fire"));
}

// Metals of a user's own file are known by whole words of name and title.
TEST(Hazards, KnowAUsersMetalByItsName) {
  Material metal = find_material("steel-low-carbon");
  metal.name = "mg-az31";
  metal.title = "Magnesium alloy, sheet";
  EXPECT_TRUE(has(heated(metal, 500), "magnesium_fire"));
  metal.title = "Steel for leader pins";
  EXPECT_FALSE(has(heated(metal, 500), "lead_fume"));
  metal.title = "Leaded steel, free cutting";
  EXPECT_TRUE(has(heated(metal, 500), "lead_fume"));
}

// A coat of zinc smokes long before the steel glows, one of cadmium earlier still.
TEST(Hazards, OfCoatings) {
  Result result = heated(find_material("steel-low-carbon"), 430);
  EXPECT_TRUE(hazards(result).empty());
  result.heater->workpiece->coating = Coating::zinc;
  EXPECT_TRUE(has(result, "zinc_fume"));
  result.heater->workpiece->coating = Coating::cadmium;
  EXPECT_TRUE(has(result, "cadmium_fume"));
}

// A pipe closed at both ends may burst.
TEST(Hazards, OfAClosedPipe) {
  Result result = heated(find_material("steel-low-carbon"), 300);
  EXPECT_FALSE(has(result, "closed_hollow"));
  result.heater->workpiece->outline.profile = {{0, 0},     {9e-3, 0},     {9e-3, 40e-3}, {0, 40e-3},
                                               {0, 38e-3}, {7e-3, 38e-3}, {7e-3, 2e-3},  {0, 2e-3}};
  EXPECT_TRUE(has(result, "closed_hollow"));
}

}  // namespace
}  // namespace cw
