#pragma once

#include <array>
#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// A corner of a face as it is seen: place on the raster in pixels, y downwards, how near it is,
/// and the share of the colour scale it has.
struct SeenCorner {
  double x = 0.0, y = 0.0, nearness = 0.0, share = 0.0;
};

/// Faces and lines of a body, each pixel keeping what is nearest to the eye. No display and no
/// graphics card take part.
class DepthRaster {
 public:
  DepthRaster(int width, int height);

  /// A face; its colour is that of the share interpolated between its corners, darkened by `light`
  /// (1: not at all). A negative share is a thing without a value: grey.
  void face(const std::array<SeenCorner, 3>& corners, double light);
  /// A thin line in the colour of ink, drawn where nothing nearer hides it; `lead`: how far it is
  /// taken to stand out of its own surface, in units of nearness.
  void line(const SeenCorner& from, const SeenCorner& to, double lead);

  /// Every `factor` by `factor` pixels as one; pixels nothing was drawn on are transparent.
  [[nodiscard]] Raster reduced(int factor) const;

 private:
  void put(int x, int y, double nearness, std::uint32_t colour);

  int width_, height_;
  std::vector<float> nearness_;
  std::vector<std::uint32_t> colour_;  ///< 0xRRGGBB, of drawn pixels
};

}  // namespace cw
