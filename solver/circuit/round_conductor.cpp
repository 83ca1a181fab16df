#include "solver/circuit/round_conductor.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/circuit/complex_bessel.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;

/// Below this ratio of outer radius to skin depth every result equals its direct-current limit to
/// rounding (the first correction is of fourth order), so f = 0 is evaluated at this ratio.
constexpr double smallest_radius_in_skin_depths = 1e-3;

/// omega at which the formulas are evaluated.
double usable_omega(const RoundConductor& c, Frequency f) {
  const double floor =
      2.0 * std::pow(smallest_radius_in_skin_depths / c.outer_radius, 2) / (mu0 * c.conductivity);
  return std::max(f.omega(), floor);
}

/// k = (1 + j)/delta [1/m].
Complex wave_number(const RoundConductor& c, double omega) {
  return Complex(1.0, 1.0) * std::sqrt(omega * mu0 * c.conductivity / 2.0);
}

Complex tube_impedance(const RoundConductor& c, Complex k) {
  const ScaledBessel outer = scaled_bessel(k * c.outer_radius);
  const ScaledBessel inner = scaled_bessel(k * (c.outer_radius - c.wall));
  const Complex fade = std::exp(-2.0 * k * c.wall);
  return k / (2.0 * std::numbers::pi * c.outer_radius * c.conductivity) *
         (outer.i0 * inner.k1 + fade * outer.k0 * inner.i1) /
         (outer.i1 * inner.k1 - fade * inner.i1 * outer.k1);
}

}  // namespace

void require_usable(const RoundConductor& c, Frequency f) {
  const auto positive = [](double v) { return std::isfinite(v) && v > 0.0; };
  if (!positive(c.outer_radius)) {
    throw std::invalid_argument(fmt::format(
        "conductor radius is {} m; it must be positive: write the outside diameter, such as 6 mm",
        c.outer_radius));
  }
  if (!(c.wall >= 0.0)) {
    throw std::invalid_argument(fmt::format(
        "conductor wall is {} m; it must not be negative: write the wall, such as 1 mm, or leave "
        "it out for a solid conductor",
        c.wall));
  }
  if (!positive(c.conductivity)) {
    throw std::invalid_argument(fmt::format(
        "conductivity is {} S/m; it must be positive: name a metal, such as copper (5.8e7 S/m)",
        c.conductivity));
  }
  if (!(std::isfinite(f.hertz) && f.hertz >= 0.0)) {
    throw std::invalid_argument(fmt::format(
        "frequency is {} Hz; it must be zero or positive: write it such as 90 kHz", f.hertz));
  }
}

double dc_resistance(const RoundConductor& c) {
  const double area =
      c.solid() ? c.outer_radius * c.outer_radius : c.wall * (2.0 * c.outer_radius - c.wall);
  return 1.0 / (std::numbers::pi * area * c.conductivity);
}

SeriesImpedance internal_impedance(const RoundConductor& c, Frequency f) {
  require_usable(c, f);
  const double omega = usable_omega(c, f);
  const Complex k = wave_number(c, omega);
  Complex z;
  if (c.solid()) {
    const Complex q = k * c.outer_radius;
    const ScaledBessel b = scaled_bessel(q);
    z = dc_resistance(c) * q * b.i0 / (2.0 * b.i1);
  } else {
    z = tube_impedance(c, k);
  }
  return {z.real(), z.imag() / omega};
}

std::vector<Complex> transverse_response(const RoundConductor& c, Frequency f, int orders) {
  require_usable(c, f);
  const Complex k = wave_number(c, usable_omega(c, f));
  const Complex kb = k * c.outer_radius;
  const std::vector<Complex> ib = bessel_i_ratios(kb, orders + 1);
  std::vector<Complex> kappa(static_cast<std::size_t>(orders));
  if (c.solid()) {
    for (std::size_t n = 0; n < kappa.size(); ++n) kappa[n] = ib[n] * ib[n + 1];
    return kappa;
  }
  // In the wall A = I_n(kr) + q K_n(kr), q = I_{n+1}(ka)/K_{n+1}(ka), so that the field in the bore
  // varies as r^n. Everything is computed as ratios: `bore` = I_{n+1}(ka) K_{n+1}(kb)/(K_{n+1}(ka)
  // I_{n+1}(kb)).
  const Complex ka = k * (c.outer_radius - c.wall);
  const std::vector<Complex> ia = bessel_i_ratios(ka, orders + 1);
  const std::vector<Complex> ra = bessel_k_ratios(ka, orders + 1);
  const std::vector<Complex> rb = bessel_k_ratios(kb, orders + 1);
  const ScaledBessel outer = scaled_bessel(kb);
  const ScaledBessel inner = scaled_bessel(ka);
  Complex bore = std::exp(-2.0 * k * c.wall) * inner.i1 * outer.k1 / (inner.k1 * outer.i1);
  for (std::size_t n = 0; n < kappa.size(); ++n) {
    bore *= ia[n + 1] * rb[n + 1] / (ra[n + 1] * ib[n + 1]);
    const Complex rise = ib[n] * ib[n + 1];
    kappa[n] = rise * (1.0 - bore) / (1.0 - bore * rise / (rb[n] * rb[n + 1]));
  }
  return kappa;
}

}  // namespace cw
