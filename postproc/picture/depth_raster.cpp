#include "postproc/picture/depth_raster.hpp"

#include <algorithm>
#include <cmath>

#include "postproc/picture/colour_map.hpp"

namespace cw {

namespace {

constexpr int depth_steps = 120;  ///< few colours make small files; steps too small to see
constexpr float nothing = -1e30F;

const std::array<Colour, depth_steps + 1>& palette() {
  static const auto all = [] {
    std::array<Colour, depth_steps + 1> colours;
    for (int k = 0; k <= depth_steps; ++k)
      colours[static_cast<std::size_t>(k)] = field_colour(static_cast<double>(k) / depth_steps);
    return colours;
  }();
  return all;
}

std::uint32_t packed(const Colour& c, double light) {
  const auto part = [&](std::uint8_t value) {
    return static_cast<std::uint32_t>(std::lround(light * value));
  };
  return part(c.red) << 16U | part(c.green) << 8U | part(c.blue);
}

}  // namespace

DepthRaster::DepthRaster(int width, int height)
    : width_(width),
      height_(height),
      nearness_(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), nothing),
      colour_(nearness_.size(), 0U) {}

void DepthRaster::put(int x, int y, double nearness, std::uint32_t colour) {
  const auto i =
      static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x);
  if (static_cast<float>(nearness) <= nearness_[i]) return;
  nearness_[i] = static_cast<float>(nearness);
  colour_[i] = colour;
}

void DepthRaster::face(const std::array<SeenCorner, 3>& c, double light) {
  const double area = (c[1].x - c[0].x) * (c[2].y - c[0].y) - (c[2].x - c[0].x) * (c[1].y - c[0].y);
  if (std::abs(area) < 1e-12) return;
  const auto [left, right] = std::minmax({c[0].x, c[1].x, c[2].x});
  const auto [top, bottom] = std::minmax({c[0].y, c[1].y, c[2].y});
  const int x0 = std::max(0, static_cast<int>(std::ceil(left - 0.5)));
  const int x1 = std::min(width_ - 1, static_cast<int>(std::floor(right - 0.5)));
  const int y0 = std::max(0, static_cast<int>(std::ceil(top - 0.5)));
  const int y1 = std::min(height_ - 1, static_cast<int>(std::floor(bottom - 0.5)));
  for (int y = y0; y <= y1; ++y) {
    for (int x = x0; x <= x1; ++x) {
      const double px = x + 0.5, py = y + 0.5;
      // Slightly beyond the edge, so that adjacent faces leave no pinholes.
      constexpr double over = -1e-9;
      const double b =
          ((px - c[0].x) * (c[2].y - c[0].y) - (c[2].x - c[0].x) * (py - c[0].y)) / area;
      const double d =
          ((c[1].x - c[0].x) * (py - c[0].y) - (px - c[0].x) * (c[1].y - c[0].y)) / area;
      const double a = 1.0 - b - d;
      if (a < over || b < over || d < over) continue;
      const double share = a * c[0].share + b * c[1].share + d * c[2].share;
      constexpr Colour grey{232, 230, 226};
      const auto k =
          static_cast<std::size_t>(std::lround(depth_steps * std::clamp(share, 0.0, 1.0)));
      put(x, y, a * c[0].nearness + b * c[1].nearness + d * c[2].nearness,
          packed(share < 0.0 ? grey : palette()[k], light));
    }
  }
}

void DepthRaster::line(const SeenCorner& from, const SeenCorner& to, double lead) {
  const double length = std::max(std::abs(to.x - from.x), std::abs(to.y - from.y));
  const int count = std::max(1, static_cast<int>(std::ceil(2.0 * length)));
  for (int k = 0; k <= count; ++k) {
    const double s = static_cast<double>(k) / count;
    const int x = static_cast<int>(std::floor(from.x + s * (to.x - from.x)));
    const int y = static_cast<int>(std::floor(from.y + s * (to.y - from.y)));
    const double nearness = from.nearness + s * (to.nearness - from.nearness) + lead;
    for (const int dx : {0, 1})
      for (const int dy : {0, 1})
        if (x + dx >= 0 && y + dy >= 0 && x + dx < width_ && y + dy < height_)
          put(x + dx, y + dy, nearness, packed(ink, 1.0));
  }
}

Raster DepthRaster::reduced(int factor) const {
  Raster raster(width_ / factor, height_ / factor);
  for (int row = 0; row < raster.height; ++row) {
    for (int column = 0; column < raster.width; ++column) {
      std::array<unsigned, 3> sum{};
      unsigned drawn = 0;
      for (int k = 0; k < factor * factor; ++k) {
        const auto i =
            static_cast<std::size_t>(row * factor + k / factor) * static_cast<std::size_t>(width_) +
            static_cast<std::size_t>(column * factor + k % factor);
        if (nearness_[i] <= nothing) continue;
        ++drawn;
        for (unsigned part = 0; part < 3; ++part)
          sum[part] += colour_[i] >> (16U - 8U * part) & 0xffU;
      }
      if (drawn == 0) continue;
      std::uint8_t* pixel = raster.pixel(column, row);
      // Rounds to one of 52 levels: pictures of few colours make small files.
      for (unsigned part = 0; part < 3; ++part)
        pixel[part] = static_cast<std::uint8_t>((sum[part] / drawn + 2U) / 5U * 5U);
      pixel[3] = static_cast<std::uint8_t>(255U * drawn / static_cast<unsigned>(factor * factor));
    }
  }
  return raster;
}

}  // namespace cw
