#include "postproc/making/tube_bending.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

namespace cw {

double spring_back(double diameter, double wall, double radius) {
  assert(wall > 0.0 && 2.0 * wall <= diameter && radius > 0.0);
  constexpr double strength = 315e6, hardening = 0.54, modulus = 117e9;  // see the header
  const double bore = diameter - 2.0 * wall;
  const double plastic_section = (std::pow(diameter, 3) - std::pow(bore, 3)) / 6.0;
  const double inertia = std::numbers::pi / 64.0 * (std::pow(diameter, 4) - std::pow(bore, 4));
  const double flow_stress = strength * std::pow(0.5 * diameter / radius, hardening);
  return plastic_section * flow_stress / (modulus * inertia) * radius;
}

}  // namespace cw
