#include "solver/run/thermometer.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

namespace {

constexpr double c2_over_wavelength = 14388.0 / 10.0;  // [K]

double radiance(Temperature t) {
  return 1 / std::expm1(c2_over_wavelength / t.kelvin);
}

}  // namespace

Temperature thermometer_reading(const SeenSurface& surface, double set_to) {
  const double around = radiance(surface.surroundings);
  const double excess = surface.emissivity / set_to * (radiance(surface.at) - around);
  const double seen = std::max(around + excess, 1e-6 * around);
  return {c2_over_wavelength / std::log1p(1 / seen)};
}

}  // namespace cw
