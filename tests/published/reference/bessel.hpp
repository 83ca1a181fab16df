#pragma once

#include "tests/published/reference/quadrature.hpp"

namespace cw::reference {

/// exp(-z) I_n(z), modified Bessel function of the first kind, n >= 0, Re z >= 0.
///
/// Power series (Abramowitz & Stegun 9.6.10, from memory) for |z| < 8, Bessel's integral (9.6.19,
/// from memory) by the trapezoidal rule above, whose error falls faster than any power. Relative
/// error about 1e-14 for |arg z| <= pi/4, the only sector eddy currents need; tested to |z| = 900.
Complex scaled_i(int order, Complex z);

/// exp(z) K_n(z), modified Bessel function of the second kind, Re z > 0, |arg z| <= pi/4.
///
/// Integral of exp(-z (cosh t - 1)) cosh(n t) (Abramowitz & Stegun 9.6.24, from memory) by the
/// trapezoidal rule. Relative error about 1e-14 for 1e-6 < |z| < 1000.
Complex scaled_k(int order, Complex z);

}  // namespace cw::reference
