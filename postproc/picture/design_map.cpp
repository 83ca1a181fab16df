#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>

#include "materials/figures.hpp"
#include "postproc/picture/chart_axes.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/design_charts.hpp"

namespace cw {

namespace {

constexpr double map_left = 92.0, map_top = 76.0, cell_room = 500.0, bar_room = 130.0,
                 legend_line = 17.0;

struct MapCell {
  std::size_t column, row;
  const DesignLine* line;
  double value;
};

/// Whether the map shows the shortfall: no design has a value of the rank key, because none reaches
/// the target.
bool maps_shortfall(const DesignSheet& sheet) {
  const auto has_value = [](const DesignLine& line) { return line.value.has_value(); };
  return std::ranges::none_of(sheet.best, has_value) &&
         std::ranges::none_of(sheet.breaking, has_value);
}

/// Positions of the cells.
struct MapGrid {
  double wide, tall, height;
  /// Corner between cells: column and row count from the lower left.
  [[nodiscard]] Spot corner(std::size_t column, std::size_t row) const {
    return {map_left + wide * static_cast<double>(column),
            map_top + height - tall * static_cast<double>(row)};
  }
};

/// The designs that differ from the best only in the first two keys.
std::vector<MapCell> cells_of(const DesignSheet& sheet, const DesignLine& best) {
  std::vector<MapCell> cells;
  const auto place = [&](std::size_t k, const std::string& value) {
    const auto& axis = sheet.axes[k];
    return static_cast<std::size_t>(std::find(axis.begin(), axis.end(), value) - axis.begin());
  };
  const bool shortfall = maps_shortfall(sheet);
  for (const auto* lines : {&sheet.best, &sheet.breaking})
    for (const DesignLine& line : *lines) {
      const auto& value = shortfall ? line.shortfall : line.value;
      if (!value ||
          !std::equal(line.values.begin() + 2, line.values.end(), best.values.begin() + 2))
        continue;
      cells.push_back({place(1, line.values[1]), place(0, line.values[0]), &line, *value});
    }
  return cells;
}

/// Draws the names along an axis, as many as fit.
void draw_names(Canvas& canvas, const std::vector<std::string>& names, double step, bool across,
                double height) {
  const double needed = across ? 52.0 : 15.0;
  const auto every = static_cast<std::size_t>(std::max(1.0, std::ceil(needed / step)));
  for (std::size_t k = 0; k < names.size(); k += every) {
    const double middle = (static_cast<double>(k) + 0.5) * step;
    if (across)
      canvas.text({map_left + middle, map_top + height + 16.0}, names[k],
                  {11.0, Anchor::middle, faint_ink});
    else
      canvas.text({map_left - 7.0, map_top + height - middle + 4.0}, names[k],
                  {11.0, Anchor::end, faint_ink});
  }
}

void draw_map_bar(Canvas& canvas, const std::string& label, double low, double high,
                  double height) {
  const double x = map_left + cell_room + 34.0;
  constexpr int steps = 40;
  for (int k = 0; k < steps; ++k)
    canvas.rectangle({x, map_top + height * (steps - 1 - k) / steps}, 16.0, height / steps + 0.5,
                     {{}, true, field_colour((k + 0.5) / steps), {}});
  for (int k = 0; k <= 4; ++k)
    canvas.text({x + 22.0, map_top + height * (4 - k) / 4 + 4.0},
                figure_short(low + (high - low) * k / 4), {11.0, Anchor::start, ink});
  canvas.text({x + 78.0, map_top + height / 2}, label, {12.0, Anchor::middle, ink, false, true});
}

bool breaks(const DesignLine& line, const std::string& limit) {
  return std::ranges::find(line.limits, limit) != line.limits.end();
}

/// Limits broken somewhere on the map, the most frequent first; only these get a line.
std::vector<std::string> limits_on(const std::vector<MapCell>& cells) {
  constexpr std::size_t most = 4;
  std::map<std::string, std::size_t> count;
  for (const MapCell& cell : cells)
    for (const std::string& limit : cell.line->limits) ++count[limit];
  std::vector<std::string> limits;
  for (const auto& [limit, n] : count) limits.push_back(limit);
  std::ranges::stable_sort(limits, std::greater{}, [&](const std::string& l) { return count[l]; });
  limits.resize(std::min(most, limits.size()));
  return limits;
}

Stroke limit_stroke(std::size_t k) {
  constexpr std::array<double, 3> dashes{7.0, 4.0, 1.8};
  return {accent, 2.2, k == 0 ? std::optional<double>{} : dashes.at(k - 1)};
}

/// The border between designs that keep a limit and those that break it.
std::vector<Line> limit_lines(const std::vector<MapCell>& cells, const MapGrid& grid,
                              const std::string& limit) {
  std::map<std::pair<std::size_t, std::size_t>, bool> broken;
  for (const MapCell& cell : cells) broken[{cell.column, cell.row}] = breaks(*cell.line, limit);
  std::vector<Line> lines;
  for (const auto& [at, here] : broken) {
    const auto [column, row] = at;
    const auto right = broken.find({column + 1, row}), above = broken.find({column, row + 1});
    if (right != broken.end() && right->second != here)
      lines.push_back({grid.corner(column + 1, row), grid.corner(column + 1, row + 1)});
    if (above != broken.end() && above->second != here)
      lines.push_back({grid.corner(column, row + 1), grid.corner(column + 1, row + 1)});
  }
  return lines;
}

void draw_limits(Canvas& canvas, const std::vector<MapCell>& cells, const MapGrid& grid) {
  for (const MapCell& cell : cells)
    if (!cell.line->broken.empty())
      canvas.line({grid.corner(cell.column, cell.row), grid.corner(cell.column + 1, cell.row + 1)},
                  {accent, 0.9, {}});
  double y = map_top + grid.height + 62.0;
  std::size_t k = 0;
  for (const std::string& limit : limits_on(cells)) {
    const Stroke stroke = limit_stroke(k++);
    for (const Line& line : limit_lines(cells, grid, limit)) canvas.line(line, stroke);
    canvas.line({{map_left, y - 4.0}, {map_left + 34.0, y - 4.0}}, stroke);
    canvas.text({map_left + 42.0, y}, "limit of " + limit, {11.0, Anchor::start, ink});
    y += legend_line;
  }
}

/// A ring on the best design that keeps every limit.
void mark_best(Canvas& canvas, const MapGrid& grid, const MapCell& cell) {
  const Spot low = grid.corner(cell.column, cell.row),
             high = grid.corner(cell.column + 1, cell.row + 1);
  const Spot middle{(low.x + high.x) / 2, (low.y + high.y) / 2};
  Line ring;
  for (int k = 0; k <= 24; ++k) {
    const double angle = 2 * std::numbers::pi * k / 24;
    ring.push_back({middle.x + 6.0 * std::cos(angle), middle.y + 6.0 * std::sin(angle)});
  }
  canvas.line(ring, {{255, 255, 255}, 3.6, {}});
  canvas.line(ring, {ink, 1.6, {}});
}

std::string below_title(const DesignSheet& sheet, const DesignLine& best) {
  std::string text = sheet.best.empty() ? "" : "ring: the best; ";
  text += maps_shortfall(sheet) ? "hatched: misses the target or exceeds a limit; white: not heated"
                                : "hatched: exceeds a limit; white: not solved";
  for (std::size_t k = 2; k < sheet.keys.size(); ++k)
    text += fmt::format(", {} {}", short_label(sheet.keys[k]), best.values[k]);
  return text;
}

}  // namespace

std::optional<Canvas> design_map(const DesignSheet& sheet) {
  if (sheet.keys.size() < 2 || sheet.rank.empty()) return std::nullopt;
  if (sheet.best.empty() && sheet.breaking.empty()) return std::nullopt;
  const DesignLine& best = sheet.best.empty() ? sheet.breaking.front() : sheet.best.front();
  const auto cells = cells_of(sheet, best);
  if (cells.empty()) return std::nullopt;
  const auto [low, high] = std::ranges::minmax(cells, {}, &MapCell::value);
  const double least = low.value, most = high.value;
  const double span = std::max(most - least, 1e-300);
  const auto rows = static_cast<double>(sheet.axes[0].size());
  const double height = std::clamp(rows * 34.0, 160.0, 420.0);
  const MapGrid grid{cell_room / static_cast<double>(sheet.axes[1].size()), height / rows, height};
  Canvas canvas;
  canvas.width = map_left + cell_room + bar_room;
  canvas.height =
      map_top + height + 66.0 + legend_line * static_cast<double>(limits_on(cells).size());
  draw_heading(canvas, sheet.title, below_title(sheet, best));
  for (const MapCell& cell : cells)
    canvas.rectangle(grid.corner(cell.column, cell.row + 1), grid.wide + 0.3, grid.tall + 0.3,
                     {{}, true, field_colour(0.08 + 0.92 * (cell.value - least) / span), {}});
  draw_limits(canvas, cells, grid);
  for (const MapCell& cell : cells)
    if (!sheet.best.empty() && cell.line == &best) mark_best(canvas, grid, cell);
  canvas.rectangle({map_left, map_top}, cell_room, height,
                   {{}, true, {}, Stroke{faint_ink, 0.8, {}}});
  draw_names(canvas, sheet.axes[1], grid.wide, true, height);
  draw_names(canvas, sheet.axes[0], grid.tall, false, height);
  canvas.text({map_left + cell_room / 2, map_top + height + 38.0}, short_label(sheet.keys[1]),
              {12.0, Anchor::middle, ink});
  canvas.text({20.0, map_top + height / 2}, short_label(sheet.keys[0]),
              {12.0, Anchor::middle, ink, false, true});
  draw_map_bar(canvas, maps_shortfall(sheet) ? "short of the target [K]" : key_label(sheet.rank),
               least, most, height);
  return canvas;
}

}  // namespace cw
