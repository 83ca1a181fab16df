#include "solver/circuit/nearby_steel.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "solver/circuit/complex_bessel.hpp"

namespace cw {

namespace {

/// Internal impedance of round wire with skin effect and permeability [ohm/m]: its direct-current
/// resistance times k a I0/(2 I1) (Kelvin).
std::complex<double> wire_impedance(double radius, const NearbyMetal& metal, Frequency f) {
  const std::complex<double> j{0, 1};
  const std::complex<double> k =
      std::sqrt(j * f.omega() * mu0 * metal.permeability / metal.resistivity);
  const double dc = metal.resistivity / (std::numbers::pi * radius * radius);
  const std::complex<double> x = k * radius;
  if (std::abs(x) < 1e-3) return dc;
  if (std::abs(x) > 1e3) return dc * (x / 2.0 + 0.25);  // much thicker than the skin depth
  const ScaledBessel bessel = scaled_bessel(x);
  return dc * x * bessel.i0 / (2.0 * bessel.i1);
}

}  // namespace

double ring_power(const NearbyRing& ring, const NearbyMetal& metal, Frequency f, double flux) {
  using std::numbers::pi;
  const double a = ring.diameter / 2, b = ring.wire / 2;
  const double voltage = f.omega() * flux * pi * a * a;
  const double outside = mu0 * a * (std::log(8 * a / b) - 2);
  const std::complex<double> z =
      2 * pi * a * wire_impedance(b, metal, f) + std::complex<double>{0, f.omega() * outside};
  return voltage * voltage * z.real() / std::norm(z);
}

double bracket_power(double area, const NearbyMetal& metal, Frequency f, double flux) {
  const double surface_resistance =
      std::sqrt(f.omega() * mu0 * metal.permeability * metal.resistivity / 2);
  const double field = 1.5 * flux / mu0;
  return area * surface_resistance * field * field;
}

}  // namespace cw
