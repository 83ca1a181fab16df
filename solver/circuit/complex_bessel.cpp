#include "solver/circuit/complex_bessel.hpp"

#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

namespace cw {
namespace {

using Complex = std::complex<double>;

/// Above this modulus the asymptotic expansions are accurate to rounding (their smallest term is
/// about exp(-2|z|)), and the recessive part of I, exp(-2z), is smaller still. Below it the power
/// series loses at most exp(0.3 |z|), three digits.
constexpr double asymptotic_from = 25.0;

/// DLMF 10.25.2 (NIST Digital Library of Mathematical Functions, from memory): power series of I_n.
Complex i_series(int n, Complex z) {
  const Complex quarter = z * z / 4.0;
  Complex term = 1.0;
  for (int m = 1; m <= n; ++m) term *= z / (2.0 * m);
  Complex sum = term;
  for (int k = 1; std::abs(term) > 1e-18 * std::abs(sum); ++k) {
    term *= quarter / (static_cast<double>(k) * (k + n));
    sum += term;
  }
  return sum;
}

/// DLMF 10.40.1-2 (from memory): sum of (-sign)^k a_k(n)/z^k, cut at its smallest term.
/// sign = +1 for I, -1 for K.
Complex asymptotic_sum(int n, Complex z, double sign) {
  Complex term = 1.0;
  Complex sum = 1.0;
  for (int k = 1; k < 60; ++k) {
    const double odd = 2.0 * k - 1.0;
    const Complex next = term * (-sign * (4.0 * n * n - odd * odd)) / (8.0 * k * z);
    if (std::abs(next) >= std::abs(term) || std::abs(next) < 1e-18) break;
    term = next;
    sum += term;
  }
  return sum;
}

/// DLMF 10.32.9 (from memory), exp(z) K_n(z) = int_0^inf exp(-z (cosh t - 1)) cosh(n t) dt, by the
/// trapezoid rule: it converges exponentially because the integrand is analytic in |Im t| < pi/4
/// for every z of the domain and dies away doubly exponentially.
void k_integral(Complex z, ScaledBessel& out) {
  constexpr double step = 0.1;
  out.k0 = out.k1 = step / 2.0;
  for (int m = 1;; ++m) {
    const double t = m * step;
    const double half = std::sinh(t / 2.0);
    const double rise = 2.0 * half * half;  // cosh t - 1 without cancellation
    if (z.real() * rise > 45.0 + t) break;
    const Complex value = step * std::exp(-z * rise);
    out.k0 += value;
    out.k1 += value * (rise + 1.0);
  }
}

void require_domain(Complex z) {
  assert(std::abs(z) > 0.0 && std::abs(z) <= 1e6);
  assert(z.real() > 0.0 && std::abs(z.imag()) <= z.real() * (1.0 + 1e-12));
  (void)z;
}

}  // namespace

ScaledBessel scaled_bessel(Complex z) {
  require_domain(z);
  ScaledBessel out;
  if (std::abs(z) < asymptotic_from) {
    const Complex scale = std::exp(-z);
    out.i0 = scale * i_series(0, z);
    out.i1 = scale * i_series(1, z);
    out.i2 = scale * i_series(2, z);
    k_integral(z, out);
    return out;
  }
  const Complex i_factor = 1.0 / std::sqrt(2.0 * std::numbers::pi * z);
  const Complex k_factor = std::sqrt(std::numbers::pi / (2.0 * z));
  out.i0 = i_factor * asymptotic_sum(0, z, 1.0);
  out.i1 = i_factor * asymptotic_sum(1, z, 1.0);
  out.i2 = i_factor * asymptotic_sum(2, z, 1.0);
  out.k0 = k_factor * asymptotic_sum(0, z, -1.0);
  out.k1 = k_factor * asymptotic_sum(1, z, -1.0);
  return out;
}

std::vector<Complex> bessel_i_ratios(Complex z, int orders) {
  require_domain(z);
  assert(orders >= 1);
  // Downward recurrence, I_{n-1} = I_{n+1} + (2n/z) I_n (DLMF 10.29.1, from memory): errors of its
  // starting values vanish once the order exceeds |z|.
  const int start = orders + 40 + static_cast<int>(std::abs(z));
  std::vector<Complex> ratio(static_cast<std::size_t>(orders));
  Complex above = 0.0;
  for (int n = start; n >= 1; --n) {
    above = z / (2.0 * n + z * above);
    if (n <= orders) ratio[static_cast<std::size_t>(n - 1)] = above;
  }
  return ratio;
}

std::vector<Complex> bessel_k_ratios(Complex z, int orders) {
  assert(orders >= 1);
  const ScaledBessel b = scaled_bessel(z);
  std::vector<Complex> ratio{b.k1 / b.k0};
  // Upward recurrence, K_{n+1} = K_{n-1} + (2n/z) K_n (DLMF 10.29.1, from memory), is stable.
  for (int n = 1; n < orders; ++n) ratio.push_back(1.0 / ratio.back() + 2.0 * n / z);
  return ratio;
}

}  // namespace cw
