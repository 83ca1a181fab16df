#pragma once

#include "postproc/picture/sheet.hpp"

namespace cw {

/// What the ends of the colour bars mean; 0 where there is nothing to show.
struct Ranges {
  double flux_top = 0.0;     ///< [T] rms; linear from 0
  double power_top = 0.0;    ///< [W/m^3]; four decades below it, logarithmic
  bool flux_beyond = false;  ///< some spots lie above flux_top: sharp edges of conductors
  /// Set: temperature stands on the left instead [degC], linear from 0.
  double celsius_top = 0.0;
};

/// Decades of power density shown.
inline constexpr double power_decades = 4.0;

Ranges ranges_of(const FieldSamples& samples);

/// The mirrored raster: |B| or temperature on the left, power density on the right.
Raster coloured(const FieldSamples& samples, const Ranges& ranges);

/// One bar with numbers and unit under each half.
void draw_colour_bars(Canvas& canvas, const Frame& frame, const Ranges& ranges);

}  // namespace cw
