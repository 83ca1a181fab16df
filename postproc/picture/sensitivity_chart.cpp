#include <fmt/format.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/picture/chart_axes.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/design_charts.hpp"

namespace cw {

namespace {

/// The range of the rank key when only one key varies.
struct Reach {
  std::string key, at_low, at_high;  ///< values of the key where the rank key is least and largest
  double low = 0.0, high = 0.0;
  bool breaks_low = false, breaks_high = false;
};

Reach reach_of(const DesignSheet& sheet, const DesignLine& best, std::size_t k) {
  Reach reach{short_label(sheet.keys[k]), best.values[k], best.values[k], *best.value, *best.value};
  for (const auto* lines : {&sheet.best, &sheet.breaking})
    for (const DesignLine& line : *lines) {
      auto others = line.values;
      others[k] = best.values[k];
      if (!line.value || others != best.values) continue;
      if (*line.value < reach.low) {
        reach.low = *line.value;
        reach.at_low = line.values[k];
        reach.breaks_low = !line.broken.empty();
      }
      if (*line.value > reach.high) {
        reach.high = *line.value;
        reach.at_high = line.values[k];
        reach.breaks_high = !line.broken.empty();
      }
    }
  return reach;
}

}  // namespace

std::optional<Canvas> sensitivity_chart(const DesignSheet& sheet) {
  if (sheet.rank.empty() || sheet.best.empty() || !sheet.best.front().value) return std::nullopt;
  const DesignLine& best = sheet.best.front();
  std::vector<Reach> reaches;
  for (std::size_t k = 0; k < sheet.keys.size(); ++k) reaches.push_back(reach_of(sheet, best, k));
  std::stable_sort(reaches.begin(), reaches.end(),
                   [](const Reach& a, const Reach& b) { return a.high - a.low > b.high - b.low; });
  double low = *best.value, high = *best.value;
  for (const Reach& r : reaches) {
    low = std::min(low, r.low);
    high = std::max(high, r.high);
  }
  constexpr double row = 48.0;
  ChartAxes axes;
  axes.left = 130.0;
  axes.width = 500.0;
  axes.height = row * static_cast<double>(reaches.size());
  const double room = std::max(0.22 * (high - low), 1e-9);
  axes.x_low = low - room;
  axes.x_high = high + room;
  Canvas canvas;
  canvas.width = axes.left + axes.width + 40.0;
  canvas.height = axes.top + axes.height + 56.0;
  draw_heading(canvas, sheet.title,
               "one key at a time, the others as in the best design (line); ! exceeds a limit");
  draw_axes(canvas, axes, key_label(sheet.rank), "");
  for (std::size_t k = 0; k < reaches.size(); ++k) {
    const Reach& r = reaches[k];
    const double y = axes.top + row * static_cast<double>(k), a = axes.spot(r.low, 0).x,
                 b = axes.spot(r.high, 0).x;
    canvas.rectangle({a, y + 12.0}, std::max(1.0, b - a), row - 24.0,
                     {{}, true, field_colour(0.45), {}});
    canvas.text({axes.left - 10.0, y + row / 2 + 4.0}, r.key, {12.0, Anchor::end, ink});
    canvas.text({a - 5.0, y + row / 2 + 4.0}, r.at_low + (r.breaks_low ? " !" : ""),
                {11.0, Anchor::end, ink});
    canvas.text({b + 5.0, y + row / 2 + 4.0}, r.at_high + (r.breaks_high ? " !" : ""),
                {11.0, Anchor::start, ink});
  }
  const double x = axes.spot(*best.value, 0).x;
  canvas.line({{x, axes.top}, {x, axes.top + axes.height}}, {ink, 1.2, {}});
  return canvas;
}

}  // namespace cw
