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

/// To the nearest, of a value >= 0.
std::uint32_t rounded(double value) {
  return static_cast<std::uint32_t>(value + 0.5);
}

std::uint32_t packed(const Colour& c, double light) {
  return rounded(light * c.red) << 16U | rounded(light * c.green) << 8U | rounded(light * c.blue);
}

std::uint32_t face_colour(double share, double light) {
  constexpr Colour grey{232, 230, 226};
  if (share < 0.0) return packed(grey, light);
  return packed(palette()[rounded(depth_steps * std::min(share, 1.0))], light);
}

using Corners = std::array<SeenCorner, 3>;

/// Twice the area of a face, with the sign of its turning sense [pixels^2].
double doubled_area(const Corners& c) {
  return (c[1].x - c[0].x) * (c[2].y - c[0].y) - (c[2].x - c[0].x) * (c[1].y - c[0].y);
}

/// What a face carries at its corners, linear between them.
struct OverFace {
  const SeenCorner& origin;
  double start, across, down;

  OverFace(const Corners& c, double SeenCorner::*of) : origin(c[0]), start(c[0].*of) {
    const double one = c[1].*of - start, two = c[2].*of - start, area = doubled_area(c);
    across = (one * (c[2].y - c[0].y) - two * (c[1].y - c[0].y)) / area;
    down = (two * (c[1].x - c[0].x) - one * (c[2].x - c[0].x)) / area;
  }
  /// In the middle of a pixel.
  [[nodiscard]] double at(int x, int y) const {
    return start + across * (x + 0.5 - origin.x) + down * (y + 0.5 - origin.y);
  }
};

/// Columns from `first` to `last`; none: `last` lies before.
struct Columns {
  int first, last;
};

/// The pixels of a row whose middles lie in a face.
Columns columns_in(const Corners& c, int row) {
  const double middle = row + 0.5;
  double from = 1e9, to = -1e9;
  for (std::size_t k = 0; k < 3; ++k) {
    const SeenCorner &p = c[k], &q = c[(k + 1) % 3];
    if ((p.y <= middle) == (q.y <= middle)) continue;
    const double crossing = p.x + (middle - p.y) / (q.y - p.y) * (q.x - p.x);
    from = std::min(from, crossing);
    to = std::max(to, crossing);
  }
  // A little over the edge, so that faces side by side leave no pinholes.
  constexpr double over = 1e-9;
  return {static_cast<int>(std::ceil(from - 0.5 - over)),
          static_cast<int>(std::floor(to - 0.5 + over))};
}

}  // namespace

DepthRaster::DepthRaster(int width, int height)
    : width_(width),
      height_(height),
      nearness_(static_cast<std::size_t>(width) * static_cast<std::size_t>(height), nothing),
      colour_(std::make_unique_for_overwrite<std::uint32_t[]>(nearness_.size())) {}

bool DepthRaster::nearer(int x, int y, double nearness) {
  float& nearest = nearness_[index(x, y)];
  if (static_cast<float>(nearness) <= nearest) return false;
  nearest = static_cast<float>(nearness);
  return true;
}

void DepthRaster::face(const std::array<SeenCorner, 3>& c, double light) {
  if (std::abs(doubled_area(c)) < 1e-12) return;
  const OverFace nearness(c, &SeenCorner::nearness), share(c, &SeenCorner::share);
  const bool grey = c[0].share < 0.0;
  const auto [top, bottom] = std::minmax({c[0].y, c[1].y, c[2].y});
  const int y0 = std::max(0, static_cast<int>(std::ceil(top - 0.5)));
  const int y1 = std::min(height_ - 1, static_cast<int>(std::floor(bottom - 0.5)));
  for (int y = y0; y <= y1; ++y) {
    const Columns row = columns_in(c, y);
    const int last = std::min(width_ - 1, row.last);
    for (int x = std::max(0, row.first); x <= last; ++x)
      if (nearer(x, y, nearness.at(x, y)))
        colour_[index(x, y)] = face_colour(grey ? -1.0 : std::max(0.0, share.at(x, y)), light);
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
          if (nearer(x + dx, y + dy, nearness)) colour_[index(x + dx, y + dy)] = packed(ink, 1.0);
  }
}

Raster DepthRaster::reduced(int factor) const {
  Raster raster(width_ / factor, height_ / factor);
  for (int row = 0; row < raster.height; ++row) {
    for (int column = 0; column < raster.width; ++column) {
      std::array<unsigned, 3> sum{};
      unsigned drawn = 0;
      for (int k = 0; k < factor * factor; ++k) {
        const std::size_t i = index(column * factor + k % factor, row * factor + k / factor);
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
