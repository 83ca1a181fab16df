#pragma once

#include <complex>

namespace cw {

inline double product(double a, double b) {
  return a * b;
}
/// Product of complex numbers, written out: std::complex checks every product for infinities.
template <class Real>
std::complex<Real> product(std::complex<Real> a, std::complex<Real> b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

}  // namespace cw
