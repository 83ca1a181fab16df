#include "solver/run/thermometer.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace cw {
namespace {

// Set to the surface's own emissivity, a thermometer in cold surroundings shows its temperature.
TEST(Thermometer, SetToTheSurfaceItIsRight) {
  for (const double emissivity : {0.1, 0.5, 0.95})
    for (const double kelvin : {300.0, 1000.0, 1800.0})
      EXPECT_NEAR(thermometer_reading({emissivity, {kelvin}, {}}, emissivity).kelvin, kelvin,
                  1e-9 * kelvin);
}

// Where Wien's law holds, well below 1400 K at 10 um, a wrong emissivity shifts 1/T by
// ln(set/emissivity)/(c2/10 um) (the formula of pyrometers, from memory; c2 = 14388 um K).
TEST(Thermometer, WrongSettingShiftsTheReadingAsWiensLawSays) {
  const double shift = std::log(0.95 / 0.3) / 1438.8;
  EXPECT_NEAR(1 / thermometer_reading({0.3, {100.0}, {}}, 0.95).kelvin, 0.01 + shift, 1e-8);
}

// A surface that does not emit shows its surroundings, for any setting; a surface as warm as its
// surroundings shows just that temperature.
TEST(Thermometer, MirrorsItsSurroundings) {
  EXPECT_NEAR(thermometer_reading({0.0, {1500.0}, {310.0}}, 0.95).kelvin, 310.0, 1e-9);
  EXPECT_NEAR(thermometer_reading({0.2, {310.0}, {310.0}}, 0.95).kelvin, 310.0, 1e-9);
}

}  // namespace
}  // namespace cw
