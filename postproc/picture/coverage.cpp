#include "postproc/picture/coverage.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

namespace {

double distance_to_segment(Spot p, Spot a, Spot b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double length2 = dx * dx + dy * dy;
  const double along =
      length2 > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length2, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

/// The points at which closed lines cross the height y, sorted.
std::vector<double> crossings(const std::vector<Line>& lines, double y) {
  std::vector<double> at;
  for (const auto& line : lines) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      const Spot a = line[i], b = line[(i + 1) % line.size()];
      if ((a.y <= y) != (b.y <= y)) at.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
    }
  }
  std::sort(at.begin(), at.end());
  return at;
}

}  // namespace

Coverage::Coverage(Raster& target)
    : target_(target),
      share_(static_cast<std::size_t>(target.width) * static_cast<std::size_t>(target.height),
             0.0F) {}

void Coverage::cover(int column, int row, double share) {
  if (share <= 0.0 || column < 0 || row < 0 || column >= target_.width || row >= target_.height)
    return;
  const auto index = static_cast<std::size_t>(row) * static_cast<std::size_t>(target_.width) +
                     static_cast<std::size_t>(column);
  if (share_[index] == 0.0F) touched_.push_back(index);
  share_[index] = std::max(share_[index], static_cast<float>(std::min(share, 1.0)));
}

void Coverage::fill(const std::vector<Line>& lines) {
  double low = target_.height, high = 0.0;
  for (const auto& line : lines) {
    for (const Spot& p : line) {
      low = std::min(low, p.y);
      high = std::max(high, p.y);
    }
  }
  const int last = std::min(target_.height - 1, static_cast<int>(std::floor(high)));
  for (int row = std::max(0, static_cast<int>(std::floor(low))); row <= last; ++row)
    fill_row(lines, row);
}

void Coverage::fill_row(const std::vector<Line>& lines, int row) {
  constexpr int slices = 4;
  std::vector<double> sum(static_cast<std::size_t>(target_.width), 0.0);
  for (int slice = 0; slice < slices; ++slice) {
    const std::vector<double> at = crossings(lines, row + (slice + 0.5) / slices);
    for (std::size_t i = 0; i + 1 < at.size(); i += 2) {
      const double from = std::clamp(at[i], 0.0, static_cast<double>(target_.width));
      const double to = std::clamp(at[i + 1], 0.0, static_cast<double>(target_.width));
      for (int column = static_cast<int>(from);
           column < std::min(target_.width, static_cast<int>(std::ceil(to))); ++column) {
        sum[static_cast<std::size_t>(column)] +=
            (std::min(to, column + 1.0) - std::max(from, static_cast<double>(column))) / slices;
      }
    }
  }
  for (int column = 0; column < target_.width; ++column)
    cover(column, row, sum[static_cast<std::size_t>(column)]);
}

void Coverage::segment(Spot from, Spot to, double half_width) {
  const double reach = half_width + 1.0;
  const int first = static_cast<int>(std::floor(std::min(from.y, to.y) - reach));
  const int last = static_cast<int>(std::ceil(std::max(from.y, to.y) + reach));
  const int left = static_cast<int>(std::floor(std::min(from.x, to.x) - reach));
  const int right = static_cast<int>(std::ceil(std::max(from.x, to.x) + reach));
  for (int row = first; row <= last; ++row) {
    for (int column = left; column <= right; ++column) {
      // A pen thinner than a pixel covers only part of it even if centred.
      const double thin = std::min(1.0, 2.0 * half_width);
      const double gap = distance_to_segment({column + 0.5, row + 0.5}, from, to);
      cover(column, row, thin * std::clamp(std::max(half_width, 0.5) + 0.5 - gap, 0.0, 1.0));
    }
  }
}

void Coverage::stroke(const Line& line, bool closed, double width) {
  for (std::size_t i = 0; i + 1 < line.size(); ++i) segment(line[i], line[i + 1], 0.5 * width);
  if (closed && line.size() > 2) segment(line.back(), line.front(), 0.5 * width);
}

void Coverage::paint(const Colour& colour) {
  const std::uint8_t wanted[3] = {colour.red, colour.green, colour.blue};
  for (const std::size_t index : touched_) {
    const double a = share_[index] * colour.opacity;
    std::uint8_t* pixel = target_.rgba.data() + 4 * index;
    for (int k = 0; k < 3; ++k)
      pixel[k] = static_cast<std::uint8_t>(std::lround(pixel[k] + a * (wanted[k] - pixel[k])));
    pixel[3] = static_cast<std::uint8_t>(std::lround(pixel[3] + a * (255 - pixel[3])));
    share_[index] = 0.0F;
  }
  touched_.clear();
}

}  // namespace cw
