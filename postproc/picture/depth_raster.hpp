#pragma once

#include <array>
#include <memory>
#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// A corner of a face in the view: position on the raster in pixels, y downwards; its nearness; its
/// share of the colour scale.
struct SeenCorner {
  double x = 0.0, y = 0.0, nearness = 0.0, share = 0.0;
};

/// Faces and lines of bodies; each pixel keeps what is nearest to the eye. Needs no display and no
/// graphics card.
class DepthRaster {
 public:
  DepthRaster(int width, int height);

  /// A face; its colour is that of the share interpolated between its corners, darkened by `light`
  /// (1: unchanged). A negative share means no value: grey.
  void face(const std::array<SeenCorner, 3>& corners, double light);
  /// A thin line in the colour of ink, drawn where nothing nearer hides it. `lead`: how much nearer
  /// than its surface it counts, so that the surface does not hide it.
  void line(const SeenCorner& from, const SeenCorner& to, double lead);

  /// Reduces every `factor` by `factor` pixels to one; pixels without a drawing are transparent.
  [[nodiscard]] Raster reduced(int factor) const;

 private:
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) +
           static_cast<std::size_t>(x);
  }
  /// Whether something at this nearness hides what the pixel holds; if so, it keeps the nearness.
  bool nearer(int x, int y, double nearness);

  int width_, height_;
  std::vector<float> nearness_;
  std::unique_ptr<std::uint32_t[]> colour_;  ///< 0xRRGGBB, of drawn pixels only
};

}  // namespace cw
