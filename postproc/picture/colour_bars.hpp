#pragma once

#include "postproc/picture/sheet.hpp"

namespace cw {

/// Meaning of the ends of a colour bar; top 0 if there is nothing to show.
struct HalfScale {
  Shown shown = Shown::flux_density;
  double top = 0.0;                ///< [T] rms, [W/m^3], [A/m^2] rms or [degC]
  bool beyond = false;             ///< some pixels exceed it: sharp edges of conductors
  std::vector<double> marks = {};  ///< values marked on the bar
};

/// For the left and the right half.
struct Ranges {
  HalfScale left, right;
};

/// Decades of power density shown.
inline constexpr double power_decades = 4.0;

/// The values that a half shows, in pixels that it shows; 0 elsewhere.
const std::vector<float>& values_of(const FieldSamples& samples, Shown shown);

HalfScale scale_of(const FieldSamples& samples, Shown shown);

/// The samples, not mirrored, in the colours of one scale.
Raster coloured_half(const FieldSamples& samples, const HalfScale& scale);

/// The mirrored raster.
Raster coloured(const FieldSamples& samples, const Ranges& ranges);

/// One bar with numbers and unit under each half.
void draw_colour_bars(Canvas& canvas, const Frame& frame, const Ranges& ranges);

}  // namespace cw
