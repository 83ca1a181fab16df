#include "solver/thermal/coaxial_nest.hpp"

#include <cmath>
#include <optional>

#include "solver/fem/forms.hpp"
#include "solver/thermal/air.hpp"
#include "solver/thermal/exchange.hpp"

namespace cw {
namespace {

/// One side of a gap.
struct NestFace {
  double radius, emissivity;
};

/// Heat per metre across a gap [W/m].
double across(const NestFace& in, const NestFace& out, double hot, double cold) {
  if (out.radius <= in.radius * (1 + 1e-9)) return hot > cold ? 1e12 * (hot - cold) : 0.0;
  const double grey = 1 / in.emissivity + in.radius / out.radius * (1 / out.emissivity - 1);
  const double radiated =
      two_pi * in.radius * stefan_boltzmann * (std::pow(hot, 4) - std::pow(cold, 4)) / grey;
  const double air = air_at({0.5 * (hot + cold)}).conductivity;
  return radiated + two_pi * air * (hot - cold) / std::log(out.radius / in.radius);
}

/// Temperature on the far side of a gap that carries `heat` [W/m]; empty if it cannot carry this
/// much.
std::optional<double> beyond(const NestFace& in, const NestFace& out, double hot, double heat) {
  double low = 1.0, high = hot;
  if (across(in, out, hot, low) < heat) return std::nullopt;
  for (int k = 0; k < 60; ++k) {
    const double middle = 0.5 * (low + high);
    (across(in, out, hot, middle) > heat ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// Temperature of the coil's inside if `heat` [W/m] flowed.
std::optional<double> at_coil(const CoaxialNest& nest, double heat) {
  NestFace side{nest.hot_radius, nest.hot_emissivity};
  double kelvin = nest.hot.kelvin;
  for (const NestWall& wall : nest.walls) {
    const auto inside = beyond(side, {wall.inner, wall.emissivity}, kelvin, heat);
    if (!inside) return std::nullopt;
    kelvin = *inside - heat * std::log(wall.outer / wall.inner) / (two_pi * wall.conductivity);
    if (kelvin < 1) return std::nullopt;
    side = {wall.outer, wall.emissivity};
  }
  return beyond(side, {nest.coil_radius, nest.coil_emissivity}, kelvin, heat);
}

}  // namespace

double heat_to_coil(const CoaxialNest& nest) {
  if (nest.hot.kelvin <= nest.coil.kelvin || nest.length <= 0) return 0.0;
  double low = 0, high = 1e8;  // [W/m], more than any heater
  for (int k = 0; k < 90; ++k) {
    const double middle = 0.5 * (low + high);
    const auto kelvin = at_coil(nest, middle);
    (kelvin && *kelvin > nest.coil.kelvin ? low : high) = middle;
  }
  return 0.5 * (low + high) * nest.length;
}

}  // namespace cw
