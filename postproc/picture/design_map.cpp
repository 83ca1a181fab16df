#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "postproc/picture/chart_axes.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/design_charts.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

constexpr double left = 92.0, top = 76.0, cell_room = 500.0, bar_room = 130.0;

struct MapCell {
  std::size_t column, row;
  double value;
  bool breaks;
};

/// The designs that differ from the best in the first two keys alone.
std::vector<MapCell> cells_of(const DesignSheet& sheet, const DesignLine& best) {
  std::vector<MapCell> cells;
  const auto place = [&](std::size_t k, const std::string& value) {
    const auto& axis = sheet.axes[k];
    return static_cast<std::size_t>(std::find(axis.begin(), axis.end(), value) - axis.begin());
  };
  for (const auto* lines : {&sheet.best, &sheet.breaking})
    for (const DesignLine& line : *lines) {
      if (!line.value ||
          !std::equal(line.values.begin() + 2, line.values.end(), best.values.begin() + 2))
        continue;
      cells.push_back(
          {place(1, line.values[1]), place(0, line.values[0]), *line.value, !line.broken.empty()});
    }
  return cells;
}

/// Names of an axis, as many as fit.
void draw_names(Canvas& canvas, const std::vector<std::string>& names, double step, bool across,
                double height) {
  const double needed = across ? 52.0 : 15.0;
  const auto every = static_cast<std::size_t>(std::max(1.0, std::ceil(needed / step)));
  for (std::size_t k = 0; k < names.size(); k += every) {
    const double middle = (static_cast<double>(k) + 0.5) * step;
    if (across)
      canvas.text({left + middle, top + height + 16.0}, names[k],
                  {11.0, Anchor::middle, faint_ink});
    else
      canvas.text({left - 7.0, top + height - middle + 4.0}, names[k],
                  {11.0, Anchor::end, faint_ink});
  }
}

void draw_bar(Canvas& canvas, const std::string& label, double low, double high, double height) {
  const double x = left + cell_room + 34.0;
  constexpr int steps = 40;
  for (int k = 0; k < steps; ++k)
    canvas.rectangle({x, top + height * (steps - 1 - k) / steps}, 16.0, height / steps + 0.5,
                     {{}, true, field_colour((k + 0.5) / steps), {}});
  for (int k = 0; k <= 4; ++k)
    canvas.text({x + 22.0, top + height * (4 - k) / 4 + 4.0},
                figure_short(low + (high - low) * k / 4), {11.0, Anchor::start, ink});
  canvas.text({x + 78.0, top + height / 2}, label, {12.0, Anchor::middle, ink, false, true});
}

}  // namespace

std::optional<Canvas> design_map(const DesignSheet& sheet) {
  if (sheet.keys.size() < 2 || sheet.rank.empty()) return std::nullopt;
  if (sheet.best.empty() && sheet.breaking.empty()) return std::nullopt;
  const DesignLine& best = sheet.best.empty() ? sheet.breaking.front() : sheet.best.front();
  const auto cells = cells_of(sheet, best);
  const auto [low, high] =
      std::minmax_element(cells.begin(), cells.end(),
                          [](const MapCell& a, const MapCell& b) { return a.value < b.value; });
  const double span = std::max(high->value - low->value, 1e-300);
  const auto rows = static_cast<double>(sheet.axes[0].size());
  const double height = std::clamp(rows * 34.0, 160.0, 420.0);
  const double wide = cell_room / static_cast<double>(sheet.axes[1].size()), tall = height / rows;
  Canvas canvas;
  canvas.width = left + cell_room + bar_room;
  canvas.height = top + height + 66.0;
  std::string others;
  for (std::size_t k = 2; k < sheet.keys.size(); ++k)
    others += fmt::format(", {} {}", short_label(sheet.keys[k]), best.values[k]);
  draw_heading(canvas, sheet.title,
               fmt::format("framed: breaks a limit; white: not solved{}", others));
  for (const bool frames : {false, true})
    for (const MapCell& cell : cells) {
      const Spot corner{left + wide * static_cast<double>(cell.column),
                        top + height - tall * static_cast<double>(cell.row + 1)};
      if (!frames)
        canvas.rectangle(
            corner, wide + 0.3, tall + 0.3,
            {{}, true, field_colour(0.08 + 0.92 * (cell.value - low->value) / span), {}});
      else if (cell.breaks)
        canvas.rectangle({corner.x + 1.2, corner.y + 1.2}, wide - 2.4, tall - 2.4,
                         {{}, true, {}, Stroke{accent, 1.6, {}}});
    }
  canvas.rectangle({left, top}, cell_room, height, {{}, true, {}, Stroke{faint_ink, 0.8, {}}});
  draw_names(canvas, sheet.axes[1], wide, true, height);
  draw_names(canvas, sheet.axes[0], tall, false, height);
  canvas.text({left + cell_room / 2, top + height + 38.0}, short_label(sheet.keys[1]),
              {12.0, Anchor::middle, ink});
  canvas.text({20.0, top + height / 2}, short_label(sheet.keys[0]),
              {12.0, Anchor::middle, ink, false, true});
  draw_bar(canvas, key_label(sheet.rank), low->value, high->value, height);
  return canvas;
}

}  // namespace cw
