// Round figures of handbooks on heating, compared with the material library.
#include <gtest/gtest.h>

#include <tuple>

#include "materials/library.hpp"
#include "solver/thermal/enthalpy.hpp"
#include "tests/published/check.hpp"

namespace cw::published {
namespace {

constexpr double kWattHour = 3600;  // [J]

/// Heat [Wh] that a kilogram takes from 20 degC to `celsius`.
double heat_content(const char* name, double celsius) {
  const Material metal = find_material(name);
  return EnthalpyLaw(metal).of(zero_celsius + celsius) / metal.density.value / kWattHour;
}

// Heat content of a kilogram [Wh] at working temperatures. Source: steel, the heat capacity of EN
// 1993-1-2:2005, Eurocode 3, Structural fire design, 3.4.1.2, integrated to 1200 degC gives 229.7;
// the usual figure is 230 to 240 (from memory). The tolerance is 2 %, since the library's carbon
// steels have their own curves. The others: mean heat capacities of the handbooks (from memory,
// rounded) times the rise: aluminium 1020 J/(kg K) to 500 degC, copper 420 to 800, brass 400 to
// 750, austenitic steel 600 to 1200. The round 400 of brass is too low: copper alone has 420 and
// zinc no less (rule of mixtures), and Y. S. Touloukian & C. Y. Ho (from memory) give 395 to 455 on
// the way; the library's brass has 426, so 8 % there.
TEST(Handbook, HeatContentAtWorkingHeat) {
  for (const char* steel : {"steel-low-carbon", "steel-medium-carbon"})
    expect_relative(heat_content(steel, 1200), 229.7, .02);
  for (const auto& [metal, celsius, watt_hours, tolerance] :
       {std::tuple{"aluminium-pure", 500., 136., .03},
        {"copper-pure", 800., 91., .03},
        {"brass-c26000", 750., 81., .08},
        {"stainless-304", 1200., 197., .06}})
    expect_relative(heat_content(metal, celsius), watt_hours, tolerance);
}

// Heat capacity at room temperature [kJ/(kg K)]: aluminium 0.91, copper 0.39, carbon steel 0.49.
// Source: The Engineering ToolBox, table of specific heats of metals,
// engineeringtoolbox.com/specific-heat-metals-d_152.html (read). The table's steel is higher than
// EN 1993-1-2:2005, Eurocode 3, Structural fire design, 3.4.1.2, which has 0.440 at 20 degC and
// reaches 0.49 at 120: the library follows the standard, and the tolerance of that row is 12 %.
TEST(Handbook, HeatCapacityOfColdMetals) {
  for (const auto& [metal, kilojoule, tolerance] : {std::tuple{"aluminium-pure", .91, .02},
                                                    {"copper-pure", .39, .02},
                                                    {"steel-medium-carbon", .49, .12}})
    expect_relative(find_material(metal).heat_capacity(Temperature::celsius(20)) / 1000, kilojoule,
                    tolerance);
}

}  // namespace
}  // namespace cw::published
