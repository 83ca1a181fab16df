#include "postproc/picture/metals_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/letters.hpp"

namespace cw {

namespace {

constexpr double chart_left = 64.0, chart_top = 84.0, chart_width = 600.0, chart_height = 460.0;
constexpr double leader = 34.0, sample = 30.0;  ///< from a line's end to its label
constexpr Lettering name_lettering{11.0, Anchor::start, ink};
constexpr Lettering number_lettering{11.0, Anchor::middle, faint_ink};

/// Distinct for colour-blind eyes: M. Okabe, K. Ito, "Color universal design" (2008), blue, bluish
/// green, reddish purple and orange (from memory); its vermilion is too similar to our colour of
/// limits.
constexpr std::array<Colour, 5> line_colours{
    {{28, 32, 38}, {0, 114, 178}, {0, 158, 115}, {204, 121, 167}, {230, 159, 0}}};
constexpr std::array<std::optional<double>, 3> dashes{std::nullopt, 7.0, 2.5};
constexpr std::array<int, 4> shapes{20, 4, 3, -4};  ///< of a marker; -4: a diamond

/// Style of the k-th line from the top; neighbours differ in all three, and no two of sixty are the
/// same.
struct Look {
  Stroke stroke;
  int corners;
  explicit Look(std::size_t k)
      : stroke{line_colours[k % line_colours.size()], 1.5, dashes[k % dashes.size()]},
        corners(shapes[k % shapes.size()]) {}
};

struct CurvePlot {
  double low, high;  ///< frequencies [Hz]
  [[nodiscard]] double x(double hertz) const {
    return chart_left + chart_width * std::log(hertz / low) / std::log(high / low);
  }
  [[nodiscard]] static double y(double share) { return chart_top + chart_height * (1 - share); }
};

Line marker(Spot at, int corners) {
  Line outline;
  const int n = std::abs(corners);
  // Squares rest on a side, the others point up.
  const double turn = corners == 4 ? std::numbers::pi / 4 : std::numbers::pi / 2;
  const double size = n == 20 ? 3.0 : 3.8;
  for (int k = 0; k < n; ++k) {
    const double angle = turn + 2 * std::numbers::pi * k / n;
    outline.push_back({at.x + size * std::cos(angle), at.y - size * std::sin(angle)});
  }
  return outline;
}

void draw_marker(Canvas& canvas, Spot at, const Look& look) {
  canvas.items.emplace_back(Drawn{
      {marker(at, look.corners)}, true, look.stroke.colour, Stroke{{255, 255, 255}, 0.7, {}}});
}

void draw_grid(Canvas& canvas, const CurvePlot& plot) {
  const Stroke faint{{222, 225, 229}, 0.8, {}}, thin{faint_ink, 0.8, {}};
  for (int percent = 0; percent <= 100; percent += 20) {
    const double y = CurvePlot::y(percent / 100.0);
    canvas.line({{chart_left, y}, {chart_left + chart_width, y}}, faint);
    canvas.text({chart_left - 8.0, y + 4.0}, fmt::format("{}", percent),
                {11.0, Anchor::end, faint_ink});
  }
  const int first = static_cast<int>(std::floor(std::log10(plot.low)));
  const int last = static_cast<int>(std::floor(std::log10(plot.high * 1.001)));
  for (int decade = first; decade <= last; ++decade) {
    for (const double step : {1.0, 2.0, 5.0}) {
      const double hertz = step * std::pow(10.0, decade);
      if (hertz < plot.low * 0.999 || hertz > plot.high * 1.001) continue;
      const double x = plot.x(hertz);
      canvas.line({{x, chart_top}, {x, chart_top + chart_height}}, faint);
      canvas.line({{x, chart_top + chart_height}, {x, chart_top + chart_height + 5.0}}, thin);
      canvas.text({x, chart_top + chart_height + 18.0}, figure_short(hertz / 1e3),
                  number_lettering);
    }
  }
  canvas.rectangle({chart_left, chart_top}, chart_width, chart_height, {{}, true, {}, thin});
  canvas.text({chart_left + chart_width / 2, chart_top + chart_height + 38.0}, "frequency [kHz]",
              {12.0, Anchor::middle, ink});
  canvas.text({22.0, chart_top + chart_height / 2}, "power in the workpiece / all power [%]",
              {12.0, Anchor::middle, ink, false, true});
}

void draw_case(Canvas& canvas, const CurvePlot& plot, double hertz) {
  const double x = plot.x(hertz);
  canvas.line({{x, chart_top}, {x, chart_top + chart_height}}, {faint_ink, 1.0, 4.0});
  canvas.text({x, chart_top - 6.0}, fmt::format("{}: table", figure(hertz, "Hz")),
              number_lettering);
}

/// Curves by the height of their right ends, highest first.
std::vector<const MetalCurve*> from_the_top(const MetalComparison& all) {
  std::vector<const MetalCurve*> sorted;
  for (const MetalCurve& m : all.metals) sorted.push_back(&m);
  std::stable_sort(sorted.begin(), sorted.end(), [](const MetalCurve* a, const MetalCurve* b) {
    return a->points.back().efficiency() > b->points.back().efficiency();
  });
  return sorted;
}

/// Slopes of a curve through points that overshoots none of them: F. N. Fritsch, R. E. Carlson,
/// SIAM J. Numer. Anal. 17 (1980) 238, with the harmonic mean of neighbouring chords (from memory).
std::vector<double> slopes_of(const Line& points) {
  std::vector<double> chord, slope;
  for (std::size_t i = 0; i + 1 < points.size(); ++i)
    chord.push_back((points[i + 1].y - points[i].y) / (points[i + 1].x - points[i].x));
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double before = chord[i == 0 ? 0 : i - 1], after = chord[std::min(i, chord.size() - 1)];
    slope.push_back(before * after > 0.0 ? 2.0 * before * after / (before + after) : 0.0);
  }
  return slope;
}

/// A smooth line through all points; six pieces between neighbours.
Line smooth(const Line& points) {
  if (points.size() < 3) return points;
  constexpr int pieces = 6;
  const std::vector<double> slope = slopes_of(points);
  Line line;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const Spot a = points[i], b = points[i + 1];
    const double w = b.x - a.x;
    for (int k = 0; k < pieces; ++k) {
      const double s = static_cast<double>(k) / pieces, q = 1.0 - s;  // cubic of Hermite
      line.push_back({a.x + s * w, q * q * (1.0 + 2.0 * s) * a.y + s * s * (3.0 - 2.0 * s) * b.y +
                                       w * s * q * (q * slope[i] - s * slope[i + 1])});
    }
  }
  line.push_back(points.back());
  return line;
}

void draw_curve(Canvas& canvas, const CurvePlot& plot, const MetalComparison& all,
                const MetalCurve& metal, std::size_t k) {
  const Look look(k);
  Line line;
  for (std::size_t i = 0; i < all.frequencies.size(); ++i)
    line.push_back({plot.x(all.frequencies[i].hertz), CurvePlot::y(metal.points[i].efficiency())});
  canvas.line(smooth(line), look.stroke);
  // A marker at every sixth point, shifted from line to line so that markers of neighbours stay
  // apart.
  for (std::size_t i = (2 * k) % 6; i < line.size(); i += 6) draw_marker(canvas, line[i], look);
}

void draw_labels(Canvas& canvas, const std::vector<const MetalCurve*>& sorted) {
  std::vector<double> ends;
  ends.reserve(sorted.size());
  for (const MetalCurve* m : sorted) ends.push_back(CurvePlot::y(m->points.back().efficiency()));
  const double gap =
      std::min(15.0, chart_height / std::max(1.0, static_cast<double>(sorted.size()) - 1.0));
  const auto heights = spread_labels(ends, gap, chart_top, chart_top + chart_height);
  for (std::size_t k = 0; k < sorted.size(); ++k) {
    const Look look(k);
    const double from = chart_left + chart_width, to = from + leader;
    Stroke hair = look.stroke;
    hair.width = 0.7;
    hair.dash.reset();
    canvas.line({{from, ends[k]}, {to, heights[k]}}, hair);
    canvas.line({{to, heights[k]}, {to + sample, heights[k]}}, look.stroke);
    draw_marker(canvas, {to + sample / 2, heights[k]}, look);
    canvas.text({to + sample + 6.0, heights[k] + 4.0}, sorted[k]->name, name_lettering);
  }
}

double widest_name(const MetalComparison& all) {
  double widest = 0.0;
  for (const MetalCurve& m : all.metals)
    widest = std::max(widest, text_width(m.name, name_lettering));
  return widest;
}

/// In smaller letters if it is long, so that it fits on the sheet.
void draw_metals_title(Canvas& canvas, const std::string& title) {
  Lettering style{16.0, Anchor::start, ink, true};
  const double room = canvas.width - 48.0, needed = text_width(title, style);
  if (needed > room) style.size = std::max(8.0, std::floor(style.size * room / needed));
  canvas.text({24.0, 32.0}, title, style);
}

}  // namespace

std::vector<double> spread_labels(const std::vector<double>& wanted, double gap, double low,
                                  double high) {
  // After subtracting k gaps the heights need only not decrease: the least-squares solution is
  // pooled means of neighbours (M. Ayer et al., Ann. Math. Statist. 26 (1955) 641, from memory).
  struct Pool {
    double sum;
    int count;
    [[nodiscard]] double mean() const { return sum / count; }
  };
  std::vector<Pool> pools;
  for (std::size_t k = 0; k < wanted.size(); ++k) {
    pools.push_back({wanted[k] - gap * static_cast<double>(k), 1});
    while (pools.size() > 1 && pools[pools.size() - 2].mean() > pools.back().mean()) {
      const Pool last = pools.back();
      pools.pop_back();
      pools.back() = {pools.back().sum + last.sum, pools.back().count + last.count};
    }
  }
  const double room = high - gap * (static_cast<double>(wanted.size()) - 1.0);
  std::vector<double> heights;
  for (const Pool& pool : pools) {
    const double base = std::clamp(pool.mean(), low, std::max(low, room));
    for (int i = 0; i < pool.count; ++i)
      heights.push_back(base + gap * static_cast<double>(heights.size()));
  }
  return heights;
}

Canvas metals_chart(const MetalComparison& all) {
  Canvas canvas;
  canvas.width = chart_left + chart_width + leader + sample + 6.0 + widest_name(all) + 24.0;
  canvas.height = chart_top + chart_height + 70.0;
  const CurvePlot plot{all.frequencies.front().hertz, all.frequencies.back().hertz};
  draw_grid(canvas, plot);
  draw_case(canvas, plot, all.frequencies[all.at_case].hertz);
  const auto sorted = from_the_top(all);
  for (std::size_t k = sorted.size(); k-- > 0;) draw_curve(canvas, plot, all, *sorted[k], k);
  draw_labels(canvas, sorted);
  draw_metals_title(canvas, all.title);
  canvas.text({24.0, 52.0},
              fmt::format("{} {} mm, at {} degC", all.size_name, millimetres(all.thickness),
                          figure(all.temperature.in_celsius())),
              {13.0, Anchor::start, ink});
  canvas.text({canvas.width - 24.0, canvas.height - 12.0},
              fmt::format("magnetic metals saturate: their curves hold at {} rms in the coil",
                          figure(all.current, "A")),
              {10.0, Anchor::end, faint_ink});
  return canvas;
}

}  // namespace cw
