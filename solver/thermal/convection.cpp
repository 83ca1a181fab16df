#include "solver/thermal/convection.hpp"

#include <algorithm>
#include <cmath>

#include "solver/thermal/air.hpp"

namespace cw {
namespace {

constexpr double gravity = 9.80665;  ///< standard acceleration [m/s^2]

double churchill_chu(double still, double blasius, double rayleigh, double prandtl) {
  const double mixed = std::pow(1 + std::pow(blasius / prandtl, 9. / 16), 8. / 27);
  const double root = still + 0.387 * std::pow(rayleigh, 1. / 6) / mixed;
  return root * root;
}

double vertical(const NaturalConvection& c, double grashof, double prandtl) {
  const double plate = nusselt_vertical_plate(grashof * prandtl, prandtl);
  if (c.diameter <= 0.0) return plate;
  // The plate's conduction limit 0.825^2 and this factor both describe weak flow. Below Gr = 1e4
  // the factor is kept constant; otherwise it would grow without bound as the surface approaches
  // the air's temperature.
  return plate * slender_cylinder(std::max(grashof, 1e4), prandtl, c.length / c.diameter);
}

}  // namespace

double nusselt_horizontal_cylinder(double rayleigh, double prandtl) {
  return churchill_chu(0.60, 0.559, rayleigh, prandtl);
}

double nusselt_vertical_plate(double rayleigh, double prandtl) {
  return churchill_chu(0.825, 0.492, rayleigh, prandtl);
}

double slender_cylinder(double grashof, double prandtl, double height_over_diameter) {
  const double b = 0.0571322 + 0.20305 * std::pow(prandtl, -0.43);
  const double c =
      0.9165 - 0.0043 * std::sqrt(prandtl) + 0.01333 * std::log(prandtl) + 0.0004809 / prandtl;
  return 1 + b * std::pow(std::sqrt(32.) * std::pow(grashof, -0.25) * height_over_diameter, c);
}

double nusselt_plate_up(double rayleigh) {
  return std::max(0.54 * std::pow(rayleigh, 0.25),
                  rayleigh > 1e7 ? 0.15 * std::cbrt(rayleigh) : 0.);
}

double nusselt_plate_down(double rayleigh) {
  return 0.27 * std::pow(rayleigh, 0.25);
}

double film_coefficient(const NaturalConvection& c, Temperature surface) {
  const double excess = surface.kelvin - c.air.kelvin;
  const AirProperties air = air_at({0.5 * (surface.kelvin + c.air.kelvin)});
  const double grashof = gravity * air.expansion * std::abs(excess) * std::pow(c.length, 3) /
                         (air.viscosity * air.viscosity);
  const double rayleigh = grashof * air.prandtl;
  double nusselt = 0.0;
  switch (c.posture) {
    case Posture::horizontal_cylinder:
      nusselt = nusselt_horizontal_cylinder(rayleigh, air.prandtl);
      break;
    case Posture::vertical_cylinder:
      nusselt = vertical(c, grashof, air.prandtl);
      break;
    case Posture::facing_up:
    case Posture::facing_down: {
      const bool rises = (c.posture == Posture::facing_up) == (excess > 0);
      nusselt = rises ? nusselt_plate_up(rayleigh) : nusselt_plate_down(rayleigh);
      break;
    }
  }
  return nusselt * air.conductivity / c.length;
}

}  // namespace cw
