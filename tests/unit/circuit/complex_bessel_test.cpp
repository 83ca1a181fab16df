#include "solver/circuit/complex_bessel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace {

using Complex = std::complex<double>;

/// z = (1 + j) a/delta, |z| = modulus.
Complex on_the_ray(double modulus) {
  return std::polar(modulus, std::numbers::pi / 4.0);
}

double relative(Complex found, Complex expected) {
  return std::abs(found - expected) / std::abs(expected);
}

/// exp(-z) I_n(z) = (1/pi) int_0^pi exp(z (cos t - 1)) cos(n t) dt (DLMF 10.32.3, from memory) by
/// the trapezoid rule, which is exact to rounding for enough points: a second way to the same
/// number.
Complex i_by_integral(int n, Complex z) {
  const int points = 200 + static_cast<int>(8.0 * std::sqrt(std::abs(z)));
  Complex sum = 0.0;
  for (int m = 0; m <= points; ++m) {
    const double t = std::numbers::pi * m / points;
    const double s = std::sin(t / 2.0);
    sum += (m == 0 || m == points ? 0.5 : 1.0) * std::exp(-2.0 * z * s * s) * std::cos(n * t);
  }
  return sum / static_cast<double>(points);
}

// The Wronskian I0 K1 + I1 K0 = 1/z and the recurrence I0 - I2 = 2 I1/z (DLMF 10.28.2 and 10.29.1,
// from memory) hold over the whole range of arguments, the seam of the two methods at 25 included.
TEST(ComplexBessel, WronskianAndRecurrenceHoldFromTinyToHugeArguments) {
  for (double modulus :
       {1e-6, 1e-4, 1e-2, 0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 24.99, 25.01, 40.0, 1e2, 1e3, 1e4}) {
    const Complex z = on_the_ray(modulus);
    const cw::ScaledBessel b = cw::scaled_bessel(z);
    EXPECT_LT(relative(b.i0 * b.k1 + b.i1 * b.k0, 1.0 / z), 2e-12) << modulus;
    EXPECT_LT(std::abs(b.i0 - b.i2 - 2.0 * b.i1 / z) / std::abs(b.i0), 2e-12) << modulus;
  }
}

// On the real axis the functions are those of the C++ standard library.
TEST(ComplexBessel, RealArgumentsAgreeWithTheStandardLibrary) {
  for (double x : {1e-3, 0.3, 1.0, 4.0, 12.0, 24.0, 26.0, 100.0}) {
    const cw::ScaledBessel b = cw::scaled_bessel(x);
    const double fall = std::exp(-x);
    EXPECT_LT(relative(b.i0, fall * std::cyl_bessel_i(0.0, x)), 1e-12) << x;
    EXPECT_LT(relative(b.i1, fall * std::cyl_bessel_i(1.0, x)), 1e-12) << x;
    EXPECT_LT(relative(b.i2, fall * std::cyl_bessel_i(2.0, x)), 1e-12) << x;
    EXPECT_LT(relative(b.k0, std::cyl_bessel_k(0.0, x) / fall), 1e-12) << x;
    EXPECT_LT(relative(b.k1, std::cyl_bessel_k(1.0, x) / fall), 1e-12) << x;
  }
}

// Off the real axis I0, I1, I2 equal their integral representation.
TEST(ComplexBessel, FirstKindAgreesWithItsIntegralOnTheSkinEffectRay) {
  for (double modulus : {0.1, 1.0, 3.0, 10.0, 24.0, 26.0, 100.0, 1000.0}) {
    const Complex z = on_the_ray(modulus);
    const cw::ScaledBessel b = cw::scaled_bessel(z);
    EXPECT_LT(relative(b.i0, i_by_integral(0, z)), 2e-12) << modulus;
    EXPECT_LT(relative(b.i1, i_by_integral(1, z)), 1e-11) << modulus;
    if (modulus >= 1.0) {
      EXPECT_LT(relative(b.i2, i_by_integral(2, z)), 1e-11) << modulus;
    }
  }
}

// K1 = -K0' (DLMF 10.29.3, from memory), by a central difference along the ray: with the Wronskian
// this pins both functions of the second kind.
TEST(ComplexBessel, SecondKindSatisfiesItsDerivativeRelation) {
  for (double modulus : {0.01, 0.5, 3.0, 15.0, 60.0}) {
    const Complex z = on_the_ray(modulus);
    const Complex step = 1e-4 * z / (1.0 + modulus);
    const Complex ahead = cw::scaled_bessel(z + step).k0 * std::exp(-step);
    const Complex behind = cw::scaled_bessel(z - step).k0 * std::exp(step);
    EXPECT_LT(relative(-(ahead - behind) / (2.0 * step), cw::scaled_bessel(z).k1), 1e-7) << modulus;
  }
}

// The ratios of neighbouring orders start from the functions themselves and climb by the
// recurrence.
TEST(ComplexBessel, OrderRatiosAgreeWithTheFunctionsAndTheWronskianOfEveryOrder) {
  for (double modulus : {1e-3, 0.5, 5.0, 30.0, 1e3}) {
    const Complex z = on_the_ray(modulus);
    const cw::ScaledBessel b = cw::scaled_bessel(z);
    const auto i = cw::bessel_i_ratios(z, 40);
    const auto k = cw::bessel_k_ratios(z, 40);
    EXPECT_LT(relative(i[0], b.i1 / b.i0), 1e-12) << modulus;
    EXPECT_LT(relative(i[1], b.i2 / b.i1), 1e-11) << modulus;
    EXPECT_LT(relative(k[0], b.k1 / b.k0), 1e-12) << modulus;
    Complex product = b.i0 * b.k0;  // I_n K_n;  I_n K_{n+1} + I_{n+1} K_n = 1/z at every order
    for (std::size_t n = 0; n < 40; ++n) {
      EXPECT_LT(relative(product * (k[n] + i[n]), 1.0 / z), 1e-10) << modulus << " order " << n;
      product *= i[n] * k[n];
    }
  }
}

}  // namespace
