#pragma once

#include "postproc/picture/canvas.hpp"

namespace cw {

/// How much of each pixel a shape covers. Collects one shape at a time and paints it in one go, so
/// that lines that cross themselves are no darker where they do.
class Coverage {
 public:
  explicit Coverage(Raster& target);

  /// Inside of closed lines by the even-odd rule, in pixels.
  void fill(const std::vector<Line>& lines);
  /// Along a line with round joints, in pixels.
  void stroke(const Line& line, bool closed, double width);
  /// One pixel; the largest coverage given to it counts. Outside the raster: nothing.
  void cover(int column, int row, double share);
  /// Lays the colour over the target and starts afresh.
  void paint(const Colour& colour);

 private:
  void segment(Spot from, Spot to, double half_width);
  void fill_row(const std::vector<Line>& lines, int row);

  Raster& target_;
  std::vector<float> share_;
  std::vector<std::size_t> touched_;
};

}  // namespace cw
