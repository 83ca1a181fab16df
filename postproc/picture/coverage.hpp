#pragma once

#include "postproc/picture/canvas.hpp"

namespace cw {

/// How much of each pixel a shape covers. Collects one shape at a time and paints it in one step,
/// so that a line is not darker where it crosses itself.
class Coverage {
 public:
  explicit Coverage(Raster& target);

  /// Inside closed lines by the even-odd rule, in pixels.
  void fill(const std::vector<Line>& lines);
  /// Along a line with round joints, in pixels.
  void stroke(const Line& line, bool closed, double width);
  /// One pixel; its largest coverage counts. Pixels outside the raster are ignored.
  void cover(int column, int row, double share);
  /// Paints the colour over the target and starts a new shape.
  void paint(const Colour& colour);

 private:
  void segment(Spot from, Spot to, double half_width);
  void fill_row(const std::vector<Line>& lines, int row);

  Raster& target_;
  std::vector<float> share_;
  std::vector<std::size_t> touched_;
};

}  // namespace cw
