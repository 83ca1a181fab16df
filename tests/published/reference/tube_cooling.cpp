#include "tests/published/reference/tube_cooling.hpp"

#include <algorithm>
#include <cmath>

#include "tests/published/reference/quadrature.hpp"

namespace cw::reference {
namespace {

constexpr double water_density = 998, water_capacity = 4180, water_conductivity = .6;

/// Heat transfer coefficient [W/(m^2 K)] of water at a temperature.
double film(const WateredTube& tube, double celsius) {
  const double viscosity = 2.414e-5 * std::pow(10, 247.8 / (celsius + 273.15 - 140));
  const double reynolds = 4 * water_density * tube.flow / (kPi * tube.bore * viscosity);
  const double prandtl = viscosity * water_capacity / water_conductivity;
  const auto turbulent = [&](double re) {
    const double eighth = std::pow(1.82 * std::log10(re) - 1.64, -2) / 8;
    return eighth * (re - 1000) * prandtl /
           (1 + 12.7 * std::sqrt(eighth) * (std::pow(prandtl, 2. / 3) - 1));
  };
  const double share = std::clamp((reynolds - 2300) / 700, 0., 1.);
  const double nusselt = (1 - share) * 48 / 11 + share * turbulent(std::max(reynolds, 3000.));
  return nusselt * water_conductivity / tube.bore;
}

/// One march with a heat a metre of `even` at a wall of 20 degC.
WaterEnds march(const WateredTube& tube, double even, double& heat) {
  constexpr int pieces = 2000;
  const double step = tube.length / pieces, wall_area = kPi * tube.bore * step;
  double water = tube.inlet_C, wall = water, mean = 0;
  heat = 0;
  for (int k = 0; k < pieces; ++k) {
    const double made = even * step * (1 + .00393 * (wall - 20));
    const double h = film(tube, water);
    wall = water + made / (h * wall_area);
    water += made / (water_density * tube.flow * water_capacity);
    mean += wall / pieces;
    heat += made;
  }
  return {water, mean, wall};
}

}  // namespace

WaterEnds marched(const WateredTube& tube) {
  double even = tube.heat / tube.length, heat = 0;
  for (int k = 0; k < 30; ++k) {
    march(tube, even, heat);
    even *= tube.heat / heat;
  }
  return march(tube, even, heat);
}

double seconds_to_limit(const DryTube& tube) {
  constexpr double step = 1e-3, sigma = 5.670374419e-8;
  const double mass = 8940 * tube.metal_area * tube.length;
  const double free = tube.perimeter * tube.length / 2;
  const double air = tube.air_C + 273.15;
  double celsius = tube.air_C;
  for (double time = 0; time < 86400; time += step) {
    if (celsius >= tube.limit_C) return time;
    const double above = celsius - tube.air_C;
    const double made = tube.other_heat + tube.loss * std::sqrt((1 + .00393 * (celsius - 20)) /
                                                                (1 + .00393 * (tube.loss_C - 20)));
    const double radiated =
        tube.emissivity * sigma * (std::pow(celsius + 273.15, 4) - std::pow(air, 4));
    const double flown = 1.32 * std::pow(above / tube.across, .25) * above;
    celsius += step * (made - free * (radiated + flown)) / (mass * (385 + .098 * (celsius - 20)));
  }
  return -1;
}

}  // namespace cw::reference
