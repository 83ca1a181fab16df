// Whether metal encloses air.
#include "solver/heater/hollow.hpp"

#include <gtest/gtest.h>

#include "materials/library.hpp"

namespace cw {
namespace {

Outline ring(double inner, double outer, double low, double high) {
  Outline outline;
  outline.profile = {{inner, low}, {outer, low}, {outer, high}, {inner, high}};
  return outline;
}

Heater heater_of(Outline outline) {
  Heater heater;
  heater.workpiece.emplace().outline = std::move(outline);
  heater.workpiece->material = find_material("steel-low-carbon");
  return heater;
}

void add(Heater& heater, const char* metal, Outline outline) {
  Body& body = heater.bodies.emplace_back();
  body.material = find_material(metal);
  body.outline = std::move(outline);
}

// A pipe and a cup are open, a bar is solid; a float drawn as one outline is closed.
TEST(Hollow, IsAirThatCannotBeReachedFromOutside) {
  EXPECT_FALSE(encloses_air(heater_of(ring(5e-3, 8e-3, -20e-3, 20e-3))));
  EXPECT_FALSE(encloses_air(heater_of(ring(0, 8e-3, -20e-3, 20e-3))));
  Outline cup;
  cup.profile = {{0, 0}, {20e-3, 0}, {20e-3, 40e-3}, {16e-3, 40e-3}, {16e-3, 5e-3}, {0, 5e-3}};
  EXPECT_FALSE(encloses_air(heater_of(cup)));
  Outline closed;
  closed.profile = {{0, 0},     {20e-3, 0},     {20e-3, 40e-3}, {0, 40e-3},
                    {0, 38e-3}, {18e-3, 38e-3}, {18e-3, 2e-3},  {0, 2e-3}};
  EXPECT_TRUE(encloses_air(heater_of(closed)));
}

// Plugs of metal close a pipe, each alone does not; a lid of fibre is no seal.
TEST(Hollow, OfSeveralBodies) {
  Heater pipe = heater_of(ring(5e-3, 8e-3, -20e-3, 20e-3));
  add(pipe, "stainless-304", ring(0, 5e-3, 15e-3, 20e-3));
  EXPECT_FALSE(encloses_air(pipe));
  Heater wrapped = pipe;
  add(wrapped, "ceramic-fibre", ring(0, 5e-3, -20e-3, -15e-3));
  EXPECT_FALSE(encloses_air(wrapped));
  add(pipe, "stainless-304", ring(0, 5e-3, -20e-3, -15e-3));
  EXPECT_TRUE(encloses_air(pipe));
}

}  // namespace
}  // namespace cw
