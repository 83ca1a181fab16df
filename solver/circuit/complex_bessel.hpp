#pragma once

#include <complex>
#include <vector>

namespace cw {

/// Modified Bessel functions of one argument, scaled by exponentials so that they neither overflow
/// nor vanish: i0 = exp(-z) I0(z), and so on; k0 = exp(+z) K0(z), k1 = exp(+z) K1(z). In a ratio of
/// functions of the same z the factors cancel.
struct ScaledBessel {
  std::complex<double> i0, i1, i2;  ///< times exp(-z)
  std::complex<double> k0, k1;      ///< times exp(+z)
};

/// All five functions at z. Valid for 1e-6 <= |z| <= 1e4 and |arg z| <= pi/4, the ray of
/// z = (1 + j) a / delta included; relative error below 1e-12 there. Other arguments assert.
ScaledBessel scaled_bessel(std::complex<double> z);

/// I_n(z)/I_{n-1}(z) for n = 1 ... orders (element n - 1); domain as for scaled_bessel.
std::vector<std::complex<double>> bessel_i_ratios(std::complex<double> z, int orders);

/// K_n(z)/K_{n-1}(z) for n = 1 ... orders (element n - 1); domain as for scaled_bessel.
std::vector<std::complex<double>> bessel_k_ratios(std::complex<double> z, int orders);

}  // namespace cw
