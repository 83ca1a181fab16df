#include "postproc/chart/chart.hpp"

#include <algorithm>
#include <array>

namespace cw {

namespace {

void include(Chart::Span& span, bool& any, double value) {
  span.low = any ? std::min(span.low, value) : value;
  span.high = any ? std::max(span.high, value) : value;
  any = true;
}

/// Height of the stack of every category.
std::vector<double> stacks(const Chart& chart) {
  std::vector<double> heights(chart.categories.size(), 0.0);
  for (const auto& series : chart.series)
    for (std::size_t i = 0; i < heights.size(); ++i) heights[i] += series.y[i];
  return heights;
}

}  // namespace

Chart::Span Chart::x_span() const {
  Span span;
  bool any = false;
  if (kind == ChartKind::bars) {
    include(span, any, 0.0);
    for (const auto& s : series)
      for (const double v : s.y) include(span, any, v);
  } else if (kind == ChartKind::lines) {
    for (const auto& s : series)
      for (const double v : s.x) include(span, any, v);
  }
  for (const auto& mark : marks)
    if (mark.upright || kind == ChartKind::bars) include(span, any, mark.value);
  return span;
}

Chart::Span Chart::y_span() const {
  Span span;
  bool any = false;
  if (kind == ChartKind::stacked) {
    include(span, any, 0.0);
    for (const double v : stacks(*this)) include(span, any, v);
  } else if (kind == ChartKind::lines) {
    if (!y.logarithmic && y.from_zero) include(span, any, 0.0);
    for (const auto& s : series)
      for (const double v : s.y) include(span, any, v);
  }
  if (kind != ChartKind::bars)
    for (const auto& mark : marks)
      if (!mark.upright) include(span, any, mark.value);
  return span;
}

ChartSeries line_series(std::size_t k, std::string name) {
  // M. Okabe, K. Ito, "Color universal design" (2008): blue, bluish green, reddish purple, orange
  // (from memory); its vermilion is too near our colour of limits.
  constexpr std::array<Colour, 5> colours{
      {{0, 114, 178}, {0, 158, 115}, {204, 121, 167}, {230, 159, 0}, {28, 32, 38}}};
  constexpr std::array<std::optional<double>, 3> dashes{std::nullopt, 7.0, 2.5};
  ChartSeries series;
  series.name = std::move(name);
  series.colour = colours[k % colours.size()];
  series.dash = dashes[k % dashes.size()];
  return series;
}

double line_width(std::size_t k, std::size_t count) {
  constexpr double least = 1.8, step = 0.7, most = 4.0;
  return std::min(most, least + step * static_cast<double>(count - 1 - k));
}

std::string part_letter(std::size_t i) {
  const std::string last(1, static_cast<char>('A' + i % 26));
  return i < 26 ? last : part_letter(i / 26 - 1) + last;
}

}  // namespace cw
