#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// Peak voltage at which clean, dry air at 1 atm breaks down over a gap [m] in a uniform field [V]:
/// 24.22 d D + 6.08 sqrt(d D) kV, d in cm, D = 293 K over the gas temperature. Valid from about
/// 0.1 mm; never below Paschen's minimum of 327 V. Curved tube, damp, scale, flux and frequencies
/// above some 200 kHz (a fifth to a quarter less, IEC 60664-4, from memory) all lower it.
/// Source: W. O. Schumann's form with the constants of textbooks of high-voltage engineering (from
/// memory); the minimum as read in a secondary copy.
double breakdown_peak_V(double gap, Temperature gas);

}  // namespace cw
