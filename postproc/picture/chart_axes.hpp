#pragma once

#include <string>
#include <utility>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// A plot with two linear scales.
struct ChartAxes {
  double left = 72.0, top = 76.0, width = 520.0, height = 380.0;  ///< of the plot [points]
  double x_low = 0.0, x_high = 1.0, y_low = 0.0, y_high = 1.0;    ///< ranges of the axes
  [[nodiscard]] Spot spot(double x, double y) const {
    return {left + width * (x - x_low) / (x_high - x_low),
            top + height * (y_high - y) / (y_high - y_low)};
  }
};

/// A span that contains low..high with some margin, never empty.
std::pair<double, double> padded(double low, double high);

/// Grid, marks, frame and labels; no marks of y where its label is empty.
void draw_axes(Canvas& canvas, const ChartAxes& axes, const std::string& x_label,
               const std::string& y_label);

/// Title and a line below it.
void draw_heading(Canvas& canvas, const std::string& title, const std::string& below);

}  // namespace cw
