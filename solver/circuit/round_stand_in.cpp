#include "solver/circuit/round_stand_in.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "solver/circuit/complex_bessel.hpp"

namespace cw {

namespace {

using std::numbers::pi;

/// Number of odd terms after which the waves are far shorter than the skin depth; the rest falls
/// with the third power.
int terms_for(double size) {
  return std::clamp(static_cast<int>(20 * size), 200, 3000);
}

}  // namespace

double rectangle_power(double width, double thickness) {
  // Lengths in skin depths: k^2 = 2j, Rs = 1/(sigma d), w mu sigma d^2 = 2.
  const std::complex<double> k2{0, 2};
  const int across = terms_for(width), through = terms_for(thickness);
  std::complex<double> sum = 0;
  for (int i = 0; i < across; ++i) {
    const double m = 2 * i + 1, p = m / width;
    std::complex<double> row = 0;
    for (int j = 0; j < through; ++j) {
      const double n = 2 * j + 1, q = n / thickness, l = pi * pi * (p * p + q * q);
      row += l / (k2 + l) / (n * n);
    }
    // Beyond the last term l is much larger than k^2, and the rest of sum 1/n^2 = pi^2/8 remains.
    double counted = 0;
    for (int j = 0; j < through; ++j) counted += 1.0 / ((2.0 * j + 1) * (2.0 * j + 1));
    row += pi * pi / 8 - counted;
    sum += row / (m * m);
  }
  const double area = width * thickness;
  const std::complex<double> power =
      std::complex<double>{0, 2} * area * 64.0 / std::pow(pi, 4) * sum;
  return power.real() / (2 * (width + thickness));
}

double round_power(double diameter) {
  const std::complex<double> z = std::complex<double>{1, 1} * (diameter / 2);
  const ScaledBessel bessel = scaled_bessel(z);
  return (std::complex<double>{1, 1} * bessel.i1 / bessel.i0).real();
}

RoundStandIn round_stand_in(BarSection section, double across, double thickness,
                            double skin_depth) {
  const double high = section == BarSection::flat ? thickness : across;
  // Six sides of across/sqrt(3) each, area sqrt(3)/2 across^2.
  const bool hexagon = section == BarSection::hexagon;
  const double perimeter = hexagon ? 6 * across / std::numbers::sqrt3 : 2 * (across + high);
  const double area = hexagon ? std::numbers::sqrt3 / 2 * across * across : across * high;
  RoundStandIn r;
  r.diameter = perimeter / pi;
  r.mass_ratio = area / (pi / 4 * r.diameter * r.diameter);
  r.power_error = round_power(r.diameter / skin_depth) /
                      rectangle_power(across / skin_depth, high / skin_depth) -
                  1;
  if (hexagon) r.power_error /= 2;
  return r;
}

}  // namespace cw
