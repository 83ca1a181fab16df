#include "materials/usual_parts.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace cw {

namespace {

/// Rated voltage [V] and hot on-state resistance [ohm].
constexpr std::array<std::pair<double, double>, 9> classes{{{60, 8e-3},
                                                            {100, 10e-3},
                                                            {150, 20e-3},
                                                            {200, 40e-3},
                                                            {250, 60e-3},
                                                            {300, 80e-3},
                                                            {650, 150e-3},
                                                            {900, 240e-3},
                                                            {1200, 160e-3}}};

/// Speed of the air [m/s] and volumetric resistance [m3 K/W].
constexpr std::array<std::pair<double, double>, 4> sinks{
    {{0.0, 800e-6}, {1.0, 250e-6}, {2.5, 150e-6}, {5.0, 80e-6}}};

double volume(const std::array<double, 3>& size) {
  return size[0] * size[1] * size[2];
}

double volumetric_resistance(double speed) {
  const double within = std::clamp(speed, sinks.front().first, sinks.back().first);
  const auto* const above =
      std::ranges::lower_bound(sinks, within, {}, &std::pair<double, double>::first);
  if (above == sinks.begin()) return above->second;
  const auto* const below = above - 1;
  const double t = (within - below->first) / (above->first - below->first);
  return below->second * std::pow(above->second / below->second, t);
}

}  // namespace

std::optional<double> usual_on_resistance(double voltage_limit) {
  const auto* const found =
      std::ranges::lower_bound(classes, voltage_limit, {}, &std::pair<double, double>::first);
  if (found == classes.end()) return std::nullopt;
  return found->second;
}

double usual_choke_resistance(double inductance) {
  constexpr double time_constant = 8e-3;  // [s]
  return inductance / time_constant;
}

double finned_sink_to_air(const std::array<double, 3>& size, double air_speed) {
  return volumetric_resistance(air_speed) / volume(size);
}

BoxedCan boxed_can(const std::array<double, 3>& size) {
  constexpr double transfer = 10.0, capacity = 1.7e6;  // [W/(m2 K)], [J/(m3 K)]
  const auto [width, depth, height] = size;
  const double surface = width * depth + 2 * height * (width + depth);
  return {capacity * volume(size), 1 / (transfer * surface)};
}

}  // namespace cw
