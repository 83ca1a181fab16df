#include "materials/water.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace cw {
namespace {

struct WaterRow {
  double celsius, density, viscosity, heat_capacity, conductivity;
};

// Density, viscosity and heat capacity: M. Chaplin, Water Structure and Science, data page (London
// South Bank University). Conductivity: Perry's Chemical Engineers' Handbook, 9th ed., table 2-135
// (secondary copy), interpolated to these temperatures.
constexpr std::array<WaterRow, 11> water_table{{{0, 999.8, 1.792e-3, 4219, .561},
                                                {10, 999.7, 1.307e-3, 4195, .580},
                                                {20, 998.2, 1.002e-3, 4184, .598},
                                                {30, 995.7, .797e-3, 4180, .615},
                                                {40, 992.2, .653e-3, 4179, .630},
                                                {50, 988.0, .547e-3, 4181, .643},
                                                {60, 983.2, .467e-3, 4185, .654},
                                                {70, 977.8, .400e-3, 4190, .663},
                                                {80, 971.8, .355e-3, 4197, .670},
                                                {90, 965.4, .310e-3, 4205, .675},
                                                {100, 958.4, .283e-3, 4216, .679}}};

}  // namespace

WaterProperties water_at(Temperature t) {
  const double celsius =
      std::clamp(t.in_celsius(), water_table.front().celsius, water_table.back().celsius);
  const auto* const above =
      std::upper_bound(water_table.begin() + 1, water_table.end() - 1, celsius,
                       [](double x, const WaterRow& row) { return x < row.celsius; });
  const WaterRow &b = *above, &a = *std::prev(above);
  const double share = (celsius - a.celsius) / (b.celsius - a.celsius);
  const auto between = [share](double x, double y) { return x + share * (y - x); };
  return {between(a.density, b.density), a.viscosity * std::pow(b.viscosity / a.viscosity, share),
          between(a.heat_capacity, b.heat_capacity), between(a.conductivity, b.conductivity)};
}

}  // namespace cw
