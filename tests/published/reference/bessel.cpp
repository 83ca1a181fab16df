#include "tests/published/reference/bessel.hpp"

#include <algorithm>

namespace cw::reference {
namespace {

/// The terms of the series reach exp(|z|) where the sum is exp(Re z): long double covers the loss.
Complex series_i(int order, Complex z) {
  using Wide = std::complex<long double>;
  const Wide half = Wide(z) / 2.0L;
  const Wide square = half * half;
  Wide term = 1.0L;
  for (int n = 1; n <= order; ++n) {
    term *= half / static_cast<long double>(n);
  }
  Wide sum = term;
  for (int m = 1; m < 80; ++m) {
    term *= square / (static_cast<long double>(m) * static_cast<long double>(m + order));
    sum += term;
  }
  return Complex(sum * std::exp(-Wide(z)));
}

/// (1/pi) integral over [0, pi] of exp(z (cos t - 1)) cos(n t).
Complex periodic_i(int order, Complex z) {
  const int intervals = 40 + static_cast<int>(std::abs(z));
  Complex sum = 0.5 * (1.0 + std::exp(-2.0 * z) * (order % 2 == 0 ? 1.0 : -1.0));
  for (int i = 1; i < intervals; ++i) {
    const double t = kPi * i / intervals;
    const double half_sine = std::sin(0.5 * t);
    sum += std::exp(-2.0 * half_sine * half_sine * z) * std::cos(order * t);
  }
  return sum / static_cast<double>(intervals);
}

}  // namespace

Complex scaled_i(int order, Complex z) {
  return std::abs(z) < 8.0 ? series_i(order, z) : periodic_i(order, z);
}

Complex scaled_k(int order, Complex z) {
  // The integrand is analytic in a strip of half-width pi/4 and more, so this step leaves about
  // exp(-2 pi (pi/4) / step); a narrow peak (large |z|) needs the smaller one.
  const double step = std::min(0.06, 0.6 / std::sqrt(std::abs(z)));
  const double last = std::acosh(1.0 + (45.0 + 5.0 * order) / z.real());
  Complex sum = 0.5;
  const int count = static_cast<int>(last / step);
  for (int i = 1; i <= count; ++i) {
    const double t = step * i;
    const double half_sinh = std::sinh(0.5 * t);
    sum += std::exp(-2.0 * half_sinh * half_sinh * z) * std::cosh(order * t);
  }
  return step * sum;
}

}  // namespace cw::reference
