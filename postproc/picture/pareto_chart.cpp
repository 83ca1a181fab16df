#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "postproc/picture/chart_axes.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/design_charts.hpp"

namespace cw {

namespace {

/// Blue of M. Okabe, K. Ito, "Color universal design" (2008), from memory.
constexpr Colour front_colour{0, 114, 178};

void draw_dot(Canvas& canvas, Spot at, double radius, Drawn style) {
  Line outline;
  for (int k = 0; k < 16; ++k) {
    const double angle = 2 * std::numbers::pi * k / 16;
    outline.push_back({at.x + radius * std::cos(angle), at.y + radius * std::sin(angle)});
  }
  style.lines = {outline};
  style.closed = true;
  canvas.items.emplace_back(std::move(style));
}

}  // namespace

std::vector<std::size_t> pareto_front(const DesignSheet& sheet) {
  const auto& all = sheet.best;
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < all.size(); ++k)
    if (all[k].value && all[k].against) order.push_back(k);
  // Sorted by the first key, best first, among equals by the second key. A design whose second key
  // betters all before it is on the front.
  const double a_sign = sheet.largest ? -1 : 1, b_sign = sheet.against_largest ? -1 : 1;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t i, std::size_t k) {
    const double a = a_sign * *all[i].value, b = a_sign * *all[k].value;
    return a != b ? a < b : b_sign * *all[i].against < b_sign * *all[k].against;
  });
  std::vector<std::size_t> front;
  double least = 1e300;
  for (const std::size_t k : order) {
    if (b_sign * *all[k].against >= least) continue;
    least = b_sign * *all[k].against;
    front.push_back(k);
  }
  return front;
}

std::optional<Canvas> pareto_chart(const DesignSheet& sheet) {
  if (sheet.against.empty()) return std::nullopt;
  const auto front = pareto_front(sheet);
  if (front.empty()) return std::nullopt;
  ChartAxes axes;
  double x0 = 1e300, x1 = -1e300, y0 = 1e300, y1 = -1e300;
  for (const auto* lines : {&sheet.best, &sheet.breaking})
    for (const DesignLine& line : *lines) {
      if (!line.value || !line.against) continue;
      x0 = std::min(x0, *line.against);
      x1 = std::max(x1, *line.against);
      y0 = std::min(y0, *line.value);
      y1 = std::max(y1, *line.value);
    }
  std::tie(axes.x_low, axes.x_high) = padded(x0, x1);
  std::tie(axes.y_low, axes.y_high) = padded(y0, y1);
  Canvas canvas;
  canvas.width = axes.left + axes.width + 40.0;
  canvas.height = axes.top + axes.height + 56.0;
  draw_heading(canvas, sheet.title,
               "joined: neither can improve without worsening the other; hollow: exceeds a limit");
  draw_axes(canvas, axes, key_label(sheet.against), key_label(sheet.rank));
  for (const DesignLine& line : sheet.breaking)
    if (line.value && line.against)
      draw_dot(canvas, axes.spot(*line.against, *line.value), 2.8,
               {{}, true, {}, Stroke{accent, 1.0, {}}});
  for (const DesignLine& line : sheet.best)
    if (line.value && line.against)
      draw_dot(canvas, axes.spot(*line.against, *line.value), 2.8, {{}, true, faint_ink, {}});
  Line joined;
  for (const std::size_t k : front)
    joined.push_back(axes.spot(*sheet.best[k].against, *sheet.best[k].value));
  canvas.line(joined, {front_colour, 1.6, {}});
  for (const Spot at : joined)
    draw_dot(canvas, at, 4.0, {{}, true, front_colour, Stroke{{255, 255, 255}, 0.8, {}}});
  return canvas;
}

}  // namespace cw
