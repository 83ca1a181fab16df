#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"
#include "postproc/chart/chart.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

namespace {

constexpr double sheet_width = 720.0, plot_height = 300.0, bar_step = 30.0;
constexpr double sheet_margin = 24.0, below_plot = 52.0, key_step = 20.0, room_for_letter = 13.0;
constexpr Colour paper_white{255, 255, 255}, grid_grey{222, 225, 229};
constexpr Lettering title_lettering{12.0, Anchor::start, ink};
constexpr Lettering mark_lettering{11.0, Anchor::middle, faint_ink};

/// One axis: maps values to positions on the sheet.
struct Scale {
  double low = 0.0, high = 1.0;  ///< values at the ends
  double from = 0.0, to = 1.0;   ///< their positions [points]
  bool logarithmic = false;

  [[nodiscard]] double place(double value) const {
    const double share =
        logarithmic ? std::log(value / low) / std::log(high / low) : (value - low) / (high - low);
    return from + share * (to - from);
  }
};

/// Ticks of a scale: steps of 1, 2, 5 times a power of ten, or, if logarithmic, these values
/// themselves; no step below 1 if the numbers are whole.
std::vector<double> ticks(const Scale& scale, int count, bool whole) {
  std::vector<double> at;
  if (scale.logarithmic) {
    for (int decade = static_cast<int>(std::floor(std::log10(scale.low)));
         decade <= static_cast<int>(std::floor(std::log10(scale.high) + 1e-9)); ++decade)
      for (const double step : {1.0, 2.0, 5.0}) {
        const double value = step * std::pow(10.0, decade);
        if (value >= scale.low * (1 - 1e-9) && value <= scale.high * (1 + 1e-9))
          at.push_back(value);
      }
    return at;
  }
  const double round = round_step(scale.high - scale.low, count),
               step = whole ? std::max(1.0, round) : round;
  const auto last = std::lround(std::floor(scale.high / step + 1e-9));
  for (long k = std::lround(std::ceil(scale.low / step - 1e-9)); k <= last; ++k)
    at.push_back(static_cast<double>(k) * step);
  return at;
}

/// Widened to round ends, so that the last value has a tick.
Scale scale_of(Chart::Span span, bool logarithmic) {
  Scale scale{span.low, span.high, 0.0, 1.0, logarithmic};
  // A span so small that rounding swallows it has no ticks.
  const double size = std::max(std::abs(scale.low), std::abs(scale.high));
  if (logarithmic && scale.high <= scale.low * (1 + 1e-9)) scale.high = 2.0 * scale.low;
  if (logarithmic) return scale;
  if (scale.high - scale.low <= 1e-9 * size) scale.high = scale.low + std::max(1.0, 1e-6 * size);
  const double step = round_step(scale.high - scale.low, 6);
  scale.low = step * std::floor(scale.low / step + 1e-9);
  scale.high = step * std::ceil(scale.high / step - 1e-9);
  return scale;
}

struct Plot {
  Scale x, y;
  [[nodiscard]] double left() const { return x.from; }
  [[nodiscard]] double right() const { return x.to; }
  [[nodiscard]] double top() const { return y.to; }
  [[nodiscard]] double bottom() const { return y.from; }
};

/// The title as printed, with signs.
std::string spelled(std::string title) {
  for (const auto& [plain, signs] : {std::pair{"[degC]", "[\u00b0C]"}, {"[uT]", "[\u00b5T]"}})
    if (const std::size_t at = title.find(plain); at != std::string::npos)
      title.replace(at, std::string_view(plain).size(), signs);
  return title;
}

void draw_x_axis(Canvas& canvas, const Plot& plot, const ChartAxis& axis) {
  for (const double value : ticks(plot.x, 7, axis.whole)) {
    const double x = plot.x.place(value);
    canvas.line({{x, plot.top()}, {x, plot.bottom()}}, {grid_grey, 0.8, {}});
    canvas.line({{x, plot.bottom()}, {x, plot.bottom() + 4.0}}, {faint_ink, 0.8, {}});
    canvas.text({x, plot.bottom() + 17.0}, figure_short(value), mark_lettering);
  }
  Lettering title = title_lettering;
  title.anchor = Anchor::middle;
  canvas.text({0.5 * (plot.left() + plot.right()), plot.bottom() + 38.0}, spelled(axis.title),
              title);
}

void draw_y_axis(Canvas& canvas, const Plot& plot, const ChartAxis& axis) {
  for (const double value : ticks(plot.y, 6, axis.whole)) {
    const double y = plot.y.place(value);
    canvas.line({{plot.left(), y}, {plot.right(), y}}, {grid_grey, 0.8, {}});
    canvas.text({plot.left() - 8.0, y + 4.0}, figure_short(value), {11.0, Anchor::end, faint_ink});
  }
  canvas.text({plot.left() - 50.0, 0.5 * (plot.top() + plot.bottom())}, spelled(axis.title),
              {12.0, Anchor::middle, ink, false, true});
}

/// Whether a line of the chart, or a vertical mark, crosses the box of a text that ends at `end`.
bool is_crossed(const Plot& plot, const Chart& chart, Spot end, double width) {
  constexpr double above = 11.0, below = 4.0;
  for (const ChartMark& mark : chart.marks) {
    const double x = plot.x.place(mark.value);
    if (mark.upright && x > end.x - width && x < end.x) return true;
  }
  for (const ChartSeries& series : chart.series)
    for (std::size_t i = 0; i + 1 < series.x.size(); ++i) {
      const Spot a{plot.x.place(series.x[i]), plot.y.place(series.y[i])};
      const Spot b{plot.x.place(series.x[i + 1]), plot.y.place(series.y[i + 1])};
      const double from = std::max(a.x, end.x - width), to = std::min(b.x, end.x);
      if (from > to) continue;
      const double rise = b.x > a.x ? (b.y - a.y) / (b.x - a.x) : 0.0;
      const double there = a.y + rise * (from - a.x), back = a.y + rise * (to - a.x);
      if (std::max(there, back) > end.y - above && std::min(there, back) < end.y + below)
        return true;
    }
  return false;
}

/// Right end of the name of a horizontal mark: above its line at the right, or at the next place
/// without lines.
Spot free_end(const Plot& plot, const Chart& chart, double y, double width) {
  double right = plot.right() - 6.0;
  // Lines from the ends of the series to their names may run beyond these ends.
  for (const ChartSeries& series : chart.series)
    if (chart.series.size() > 1 && !series.x.empty())
      right = std::min(right, std::max(plot.x.place(series.x.back()) - 4.0, plot.left() + width));
  const double left = plot.left() + 6.0 + width;
  for (const double end : {right, 0.5 * (left + right), left})
    for (const double to : {y - 5.0, y + 14.0})
      if (to < plot.bottom() - 4.0 && !is_crossed(plot, chart, {end, to}, width)) return {end, to};
  return {right, y - 5.0};
}

void draw_marks(Canvas& canvas, const Plot& plot, const Chart& chart) {
  for (const ChartMark& mark : chart.marks) {
    const Colour colour = mark.limit ? accent : faint_ink;
    const Stroke stroke{colour, mark.limit ? 1.8 : 1.2, mark.limit ? std::optional<double>() : 4.0};
    Lettering style{11.0, Anchor::start, colour, mark.limit, false, true};
    if (mark.upright || chart.kind == ChartKind::bars) {
      const double x = plot.x.place(mark.value);
      canvas.line({{x, plot.top() - 6.0}, {x, plot.bottom()}}, stroke);
      // If two marks are side by side, the limit has its name to the right.
      if (!mark.limit && x > plot.left() + (plot.right() - plot.left()) / 3)
        style.anchor = Anchor::end;
      canvas.text({x + (style.anchor == Anchor::end ? -5.0 : 5.0), plot.top() - 8.0}, mark.name,
                  style);
    } else {
      const double y = plot.y.place(mark.value);
      canvas.line({{plot.left(), y}, {plot.right(), y}}, stroke);
      style.anchor = Anchor::end;
      canvas.text(free_end(plot, chart, y, text_width(mark.name, style)), mark.name, style);
    }
  }
}

void draw_bars(Canvas& canvas, const Plot& plot, const Chart& chart) {
  const ChartSeries& series = chart.series.front();
  for (std::size_t i = 0; i < chart.categories.size(); ++i) {
    const double y = plot.top() + bar_step * (static_cast<double>(i) + 0.5);
    const double end = plot.x.place(series.y[i]);
    const Colour colour = series.own_colours.empty() ? series.colour : series.own_colours[i];
    canvas.rectangle({plot.left(), y - 9.0}, end - plot.left(), 18.0, {{}, true, colour, {}});
    canvas.text({plot.left() - 8.0, y + 4.0}, chart.categories[i], {12.0, Anchor::end, ink});
  }
}

Colour letter_colour(const Colour& colour) {
  return lightness(colour) < 0.6 ? paper_white : ink;
}

/// Whether a mark crosses a text that begins at x on the sheet.
bool is_marked(const Plot& plot, const Chart& chart, double x, double width) {
  return std::ranges::any_of(chart.marks, [&](const ChartMark& mark) {
    const double at = plot.x.place(mark.value);
    return at > x - 2.0 && at < x + width + 2.0;
  });
}

/// Writes the value after each bar; inside the bar where a mark would cross it.
void draw_bar_words(Canvas& canvas, const Plot& plot, const Chart& chart) {
  const ChartSeries& series = chart.series.front();
  for (std::size_t i = 0; i < chart.categories.size(); ++i) {
    const double y = plot.top() + bar_step * (static_cast<double>(i) + 0.5);
    const double end = plot.x.place(series.y[i]);
    const std::string remark = series.remarks.empty() ? "" : series.remarks[i];
    const std::string words = fmt::format("{} {}{}{}", figure(series.y[i]), chart.x.unit,
                                          remark.empty() ? "" : ", ", remark);
    Lettering style{11.0, Anchor::start, ink, !remark.empty(), false, true};
    const double width = text_width(words, style);
    const bool inside = is_marked(plot, chart, end + 6.0, width) &&
                        end - width - 12.0 > plot.left() &&
                        !is_marked(plot, chart, end - 6.0 - width, width);
    if (inside) {
      const Colour bar = series.own_colours.empty() ? series.colour : series.own_colours[i];
      style = {11.0, Anchor::end, letter_colour(bar), style.bold};
    }
    canvas.text({inside ? end - 6.0 : end + 6.0, y + 4.0}, words, style);
  }
}

void draw_stacks(Canvas& canvas, const Plot& plot, const Chart& chart) {
  const double step = (plot.right() - plot.left()) / static_cast<double>(chart.categories.size());
  const double width = 0.56 * step;
  for (std::size_t i = 0; i < chart.categories.size(); ++i) {
    const double middle = plot.left() + step * (static_cast<double>(i) + 0.5);
    double height = 0.0;
    for (std::size_t k = 0; k < chart.series.size(); ++k) {
      const ChartSeries& series = chart.series[k];
      const double low = plot.y.place(height), high = plot.y.place(height + series.y[i]);
      canvas.rectangle({middle - 0.5 * width, high}, width, low - high,
                       {{}, true, series.colour, Stroke{paper_white, 0.8, {}}});
      if (low - high > room_for_letter)
        canvas.text({middle, 0.5 * (low + high) + 4.0}, part_letter(k),
                    {11.0, Anchor::middle, letter_colour(series.colour), true});
      height += series.y[i];
    }
    canvas.text({middle, plot.y.place(height) - 6.0}, figure(height, chart.y.unit),
                {11.0, Anchor::middle, ink});
    Lettering name = title_lettering;
    name.anchor = Anchor::middle;
    canvas.text({middle, plot.bottom() + 18.0}, chart.categories[i], name);
  }
}

void draw_lines(Canvas& canvas, const Plot& plot, const Chart& chart) {
  for (std::size_t k = 0; k < chart.series.size(); ++k) {
    const ChartSeries& series = chart.series[k];
    Line line;
    for (std::size_t i = 0; i < series.x.size(); ++i)
      line.push_back({plot.x.place(series.x[i]), plot.y.place(series.y[i])});
    if (line.size() > 1)
      canvas.line(line, {series.colour, line_width(k, chart.series.size()), series.dash});
    if (line.size() > 30) continue;  // many points are a curve, few are samples
    for (const Spot at : line)
      canvas.rectangle({at.x - 2.5, at.y - 2.5}, 5.0, 5.0,
                       {{}, true, series.colour, Stroke{paper_white, 0.7, {}}});
  }
}

/// Room at the right for the names of lines that all end there; 0 if a key below the plot is
/// better.
double room_for_names(const Chart& chart, double x_high) {
  constexpr std::size_t most = 7;
  constexpr double widest = 190.0, far_end = 0.8;
  if (chart.kind != ChartKind::lines || chart.series.size() < 2 || chart.series.size() > most)
    return 0.0;
  double width = 0.0;
  for (const ChartSeries& series : chart.series) {
    if (series.x.empty() || series.x.back() < far_end * x_high) return 0.0;
    width = std::max(width, text_width(series.name, title_lettering));
  }
  return width > widest ? 0.0 : width + 22.0;
}

/// Writes each line's name at its end, without overlaps, with a thin line from the end to its name.
void draw_line_names(Canvas& canvas, const Plot& plot, const Chart& chart) {
  constexpr double step = 15.0;
  struct End {
    const ChartSeries* series;
    Spot at;
    double y;
  };
  std::vector<End> ends;
  for (const ChartSeries& series : chart.series) {
    const Spot at{plot.x.place(series.x.back()), plot.y.place(series.y.back())};
    ends.push_back({&series, at, at.y});
  }
  std::ranges::stable_sort(ends, {}, [](const End& end) { return end.at.y; });
  for (std::size_t k = 1; k < ends.size(); ++k)
    ends[k].y = std::max(ends[k].y, ends[k - 1].y + step);
  double lowest = plot.bottom();
  for (std::size_t k = ends.size(); k-- > 0; lowest -= step)
    ends[k].y = std::min(ends[k].y, lowest);
  for (const End& end : ends) {
    canvas.line({{end.at.x + 3.0, end.at.y}, {plot.right() + 8.0, end.y}},
                {end.series->colour, 0.7, {}});
    canvas.text({plot.right() + 12.0, end.y + 4.0}, end.series->name, title_lettering);
  }
}

/// Draws the names of the series with a sample of each, in rows below the plot; returns the height
/// used.
double draw_key(Canvas& canvas, double top, const Chart& chart) {
  double x = sheet_margin, y = top;
  for (std::size_t k = 0; k < chart.series.size(); ++k) {
    const ChartSeries& series = chart.series[k];
    const double width = 34.0 + text_width(series.name, title_lettering) + 18.0;
    if (x + width > sheet_width - sheet_margin && x > sheet_margin) {
      x = sheet_margin;
      y += key_step;
    }
    if (chart.kind == ChartKind::lines)
      canvas.line({{x, y - 4.0}, {x + 26.0, y - 4.0}},
                  {series.colour, line_width(k, chart.series.size()), series.dash});
    else {
      canvas.rectangle({x, y - 12.0}, 26.0, 16.0, {{}, true, series.colour, {}});
      canvas.text({x + 13.0, y}, part_letter(k),
                  {11.0, Anchor::middle, letter_colour(series.colour), true});
    }
    canvas.text({x + 34.0, y}, series.name, title_lettering);
    x += width;
  }
  return y - top + key_step;
}

double widest_category(const Chart& chart) {
  double width = 0.0;
  for (const auto& name : chart.categories)
    width = std::max(width, text_width(name, title_lettering));
  return width;
}

}  // namespace

Canvas chart_drawing(const Chart& chart) {
  Canvas canvas;
  canvas.width = sheet_width;
  const bool lying = chart.kind == ChartKind::bars;
  Plot plot{scale_of(chart.x_span(), chart.x.logarithmic),
            scale_of(chart.y_span(), chart.y.logarithmic)};
  plot.x.from = lying ? sheet_margin + widest_category(chart) + 10.0 : sheet_margin + 62.0;
  const double names = room_for_names(chart, plot.x.high);
  plot.x.to = sheet_width - sheet_margin - (lying ? 90.0 : names);
  plot.y.to = 64.0;
  plot.y.from =
      plot.y.to + (lying ? bar_step * static_cast<double>(chart.categories.size()) : plot_height);
  canvas.text({sheet_margin, 28.0}, chart.title, {15.0, Anchor::start, ink, true});
  if (chart.kind != ChartKind::stacked) draw_x_axis(canvas, plot, chart.x);
  if (!lying) draw_y_axis(canvas, plot, chart.y);
  // Marks go below lines, which may run along a limit, and above bars.
  const bool lines = !lying && chart.kind != ChartKind::stacked;
  if (lines) draw_marks(canvas, plot, chart);
  if (lying)
    draw_bars(canvas, plot, chart);
  else if (lines)
    draw_lines(canvas, plot, chart);
  else
    draw_stacks(canvas, plot, chart);
  if (!lines) draw_marks(canvas, plot, chart);
  if (lying) draw_bar_words(canvas, plot, chart);
  if (names > 0.0) draw_line_names(canvas, plot, chart);
  canvas.line({{plot.left(), plot.bottom()}, {plot.right(), plot.bottom()}}, {ink, 1.0, {}});
  if (lying) canvas.line({{plot.left(), plot.top()}, {plot.left(), plot.bottom()}}, {ink, 1.0, {}});
  const bool keyed = chart.series.size() > 1 && names == 0.0;
  const double key = plot.bottom() + below_plot + (keyed ? 8.0 : 0.0);
  canvas.height = key + (keyed ? draw_key(canvas, key, chart) : 0.0);
  return canvas;
}

}  // namespace cw
