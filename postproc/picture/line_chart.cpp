#include "postproc/picture/line_chart.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/metals_chart.hpp"
#include "postproc/picture/sheet.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

constexpr double left = 76.0, top = 78.0, width = 600.0, height = 400.0, leader = 22.0;
constexpr Lettering names{12.0, Anchor::start, ink};

/// Distinct for colour-blind eyes: M. Okabe, K. Ito, "Color universal design" (2008) (from memory).
constexpr std::array<Colour, 5> colours{
    {{0, 114, 178}, {230, 159, 0}, {0, 158, 115}, {204, 121, 167}, {28, 32, 38}}};

struct Axis {
  double low = 0.0, high = 1.0, step = 1.0;
  void include(double v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
  void round() {
    step = round_step(high - low, 7);
    low = step * std::floor(low / step);
    high = step * std::ceil(high / step - 1e-9);
  }
  [[nodiscard]] double share(double v) const { return (v - low) / (high - low); }
};

struct Axes {
  Axis x, y;
  [[nodiscard]] Spot spot(double at_x, double at_y) const {
    return {left + width * x.share(at_x), top + height * (1 - y.share(at_y))};
  }
};

Axes axes_of(const LineChart& chart) {
  Axes axes;
  axes.x.high = axes.y.high = 1e-12;
  for (const ChartLine& line : chart.lines)
    for (const auto& [x, y] : line.points) {
      axes.x.include(x);
      axes.y.include(y);
    }
  for (const ChartMark& m : chart.marks) {
    axes.x.include(m.x);
    axes.y.include(m.y);
  }
  if (chart.limit) axes.y.include(1.04 * chart.limit->y);
  if (chart.upright) axes.x.include(chart.upright->x);
  axes.x.round();
  axes.y.round();
  return axes;
}

void draw_axes(Canvas& canvas, const LineChart& chart, const Axes& axes) {
  const Stroke faint{{222, 225, 229}, 0.8, {}}, thin{faint_ink, 0.8, {}};
  const auto count = [](const Axis& a) {
    return static_cast<int>(std::lround((a.high - a.low) / a.step));
  };
  for (int k = 0; k <= count(axes.x); ++k) {
    const double v = axes.x.low + k * axes.x.step;
    const Spot at = axes.spot(v, axes.y.low);
    canvas.line({{at.x, top}, at}, faint);
    canvas.text({at.x, at.y + 18.0}, figure_short(v), {11.0, Anchor::middle, faint_ink});
  }
  for (int k = 0; k <= count(axes.y); ++k) {
    const double v = axes.y.low + k * axes.y.step;
    const Spot at = axes.spot(axes.x.low, v);
    canvas.line({at, {left + width, at.y}}, faint);
    canvas.text({at.x - 8.0, at.y + 4.0}, figure_short(v), {11.0, Anchor::end, faint_ink});
  }
  canvas.rectangle({left, top}, width, height, {{}, true, {}, thin});
  canvas.text({left + width / 2, top + height + 40.0}, chart.x_label, {12.0, Anchor::middle, ink});
  canvas.text({22.0, top + height / 2}, chart.y_label, {12.0, Anchor::middle, ink, false, true});
}

void draw_lines(Canvas& canvas, const LineChart& chart, const Axes& axes) {
  std::vector<std::pair<double, std::size_t>> ends;
  for (std::size_t k = 0; k < chart.lines.size(); ++k) {
    Line line;
    for (const auto& [x, y] : chart.lines[k].points) line.push_back(axes.spot(x, y));
    if (line.empty()) continue;
    const std::optional<double> dash =
        chart.lines[k].dashed ? std::optional<double>(6.0) : std::nullopt;
    canvas.line(line, {colours[k % colours.size()], 1.8, dash});
    ends.emplace_back(line.back().y, k);
  }
  std::sort(ends.begin(), ends.end());
  std::vector<double> wanted;
  for (const auto& [y, k] : ends) wanted.push_back(y);
  const std::vector<double> heights = spread_labels(wanted, 16.0, top, top + height);
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const ChartLine& line = chart.lines[ends[i].second];
    const Colour colour = colours[ends[i].second % colours.size()];
    const Spot end = axes.spot(line.points.back().first, line.points.back().second);
    canvas.line({end, {left + width + leader, heights[i]}}, {colour, 0.7, {}});
    canvas.text({left + width + leader + 5.0, heights[i] + 4.0}, line.name, names);
  }
}

void draw_marks(Canvas& canvas, const LineChart& chart, const Axes& axes) {
  if (chart.limit) {
    const double y = axes.spot(axes.x.low, chart.limit->y).y;
    canvas.line({{left, y}, {left + width, y}}, {accent, 1.2, 5.0});
    canvas.text({left + 8.0, y - 5.0}, chart.limit->text,
                {11.0, Anchor::start, accent, false, false, true});
  }
  if (chart.upright) {
    const double x = axes.spot(chart.upright->x, axes.y.low).x;
    canvas.line({{x, top}, {x, top + height}}, {faint_ink, 1.0, 4.0});
    canvas.text({x - 5.0, top + 14.0}, chart.upright->text,
                {11.0, Anchor::end, faint_ink, false, false, true});
  }
  for (const ChartMark& m : chart.marks) {
    const Spot at = axes.spot(m.x, m.y);
    Line ring;
    for (int k = 0; k < 20; ++k)
      ring.push_back({at.x + 4.0 * std::cos(0.314159 * k), at.y + 4.0 * std::sin(0.314159 * k)});
    canvas.items.emplace_back(Drawn{{ring}, true, Colour{255, 255, 255}, Stroke{accent, 1.6, {}}});
    const bool far = at.x > left + 0.7 * width;
    canvas.text({at.x + (far ? -9.0 : 9.0), at.y - 7.0}, m.text,
                {11.0, far ? Anchor::end : Anchor::start, ink, false, false, true});
  }
}

}  // namespace

Canvas draw(const LineChart& chart) {
  double widest = 0.0;
  for (const ChartLine& line : chart.lines) widest = std::max(widest, text_width(line.name, names));
  Canvas canvas;
  canvas.width = left + width + leader + 5.0 + widest + 24.0;
  canvas.height = top + height + 62.0;
  const Axes axes = axes_of(chart);
  draw_axes(canvas, chart, axes);
  draw_lines(canvas, chart, axes);
  draw_marks(canvas, chart, axes);
  Lettering bold{16.0, Anchor::start, ink, true};
  const double room = canvas.width - 48.0, needed = text_width(chart.title, bold);
  if (needed > room) bold.size = std::max(9.0, std::floor(bold.size * room / needed));
  canvas.text({24.0, 32.0}, chart.title, bold);
  canvas.text({24.0, 54.0}, chart.subtitle, {13.0, Anchor::start, ink});
  return canvas;
}

}  // namespace cw
