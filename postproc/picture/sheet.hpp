#pragma once

#include <string>
#include <vector>

#include "postproc/picture/field_samples.hpp"
#include "postproc/picture/picture.hpp"

namespace cw {

/// Position of the section on the sheet.
struct Frame {
  Window window;
  double scale = 1.0;                ///< points per metre
  double left = 0.0, top = 0.0;      ///< of the drawn field [points]
  double width = 0.0, height = 0.0;  ///< [points]
  [[nodiscard]] double axis() const { return left + 0.5 * width; }
  [[nodiscard]] double bottom() const { return top + height; }
  [[nodiscard]] double right() const { return left + width; }
  /// `side` -1 is the left half, +1 the right.
  [[nodiscard]] Spot spot(Point p, int side) const {
    return {axis() + side * p.r * scale, top + (window.top - p.z) * scale};
  }
};

/// Position of the section in a picture.
Frame frame_of(const PictureInput& input);
/// The shown quantities at the centres of pixels of side `step` [m]: currents only of the turns;
/// for a coil alone, the power too.
FieldSamples samples_shown(const PictureInput& input, const Frame& frame, double step);

/// A label in the margin and the point to which it refers.
struct Callout {
  std::string text;
  Point at;
};

/// Round steps 1, 2, 5 x 10^n, at most `count` of them in the span.
double round_step(double span, int count);
/// The smallest of 1, 1.5, 2, 3, 4, 5, 6, 8 x 10^n that is not below the value.
double round_up(double value);

/// Millimetre scales, frame, centre line.
void draw_scales(Canvas& canvas, const Frame& frame);
/// Height of every tick label on the left scale [points].
std::vector<double> tick_heights(const Frame& frame);
/// Dimension lines: diameters stacked above the frame, lengths to the right of it.
void draw_dimensions(Canvas& canvas, const Frame& frame,
                     const std::vector<DimensionLine>& dimensions);
/// Labels in the left margin with leader lines, without overlaps with each other and the scale.
void draw_callouts(Canvas& canvas, const Frame& frame, std::vector<Callout> callouts);

/// Steps between stacked dimension lines [points].
inline constexpr double dimension_step = 26.0;
/// Room for the numbers of the left scale [points].
inline constexpr double scale_room = 50.0;

}  // namespace cw
