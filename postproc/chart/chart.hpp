#pragma once

#include <optional>
#include <string>
#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// Title with its unit in brackets, as printed along the axis: "supply current, DC [A]".
struct ChartAxis {
  std::string title;
  std::string unit;          ///< "degC" for temperatures, which a page can show in degF
  bool logarithmic = false;  ///< then every value is > 0
  bool from_zero = true;     ///< whether a y axis begins at 0; it need not if changes matter
  bool whole = false;        ///< only whole numbers: no ticks between them
};

/// Values of one quantity, in the units of the axes.
struct ChartSeries {
  std::string name;
  std::vector<double> x, y;  ///< of equal length, x only for lines; bars: y, one per category
  Colour colour;
  std::optional<double> dash;       ///< of a line
  std::vector<Colour> own_colours;  ///< bars: colour of each category instead of `colour`; else
                                    ///< empty
  std::vector<std::string> remarks = {};  ///< bars: text after each value; else empty
};

/// A line right across the chart: a limit, a target, the temperature at which heating stops.
struct ChartMark {
  std::string name;
  double value = 0.0;
  bool upright = false;  ///< at x = value; else at y = value. For horizontal bars always at x.
  bool limit = false;    ///< drawn in the colour of limits
};

enum class ChartKind {
  lines,   ///< y against x
  bars,    ///< horizontal, one per category
  stacked  ///< vertical, one per category, the series on top of each other
};

/// A chart as data: picture, table and page all show the same.
struct Chart {
  std::string id;  ///< file name, and id in the page, [a-z-]
  std::string title;
  std::string note;  ///< one sentence: what the chart shows; may be empty
  ChartKind kind = ChartKind::lines;
  ChartAxis x, y;  ///< bars: the values are along x
  std::vector<std::string> categories;
  std::vector<ChartSeries> series;
  std::vector<ChartMark> marks;
  /// Low and high end of the values on their axis, marks included; 0 included for bars.
  struct Span {
    double low = 0.0, high = 0.0;
  };
  [[nodiscard]] Span x_span() const;
  [[nodiscard]] Span y_span() const;
};

/// The chart as a drawing of fixed size, for print.
Canvas chart_drawing(const Chart& chart);

/// The numbers of a chart in full, one header line with units, comma-separated (RFC 4180). Lines
/// with different x follow each other, each row beginning with the name.
std::string chart_table(const Chart& chart);

/// Style of the k-th line of a chart: distinct for colour-blind eyes, and by its dashes in grey.
ChartSeries line_series(std::size_t k, std::string name);

/// Width of the k-th of `count` lines [points]. Earlier ones are drawn first and are wider, so that
/// none is hidden where lines coincide.
double line_width(std::size_t k, std::size_t count);

/// Letter for a part of a stack whose name does not fit: A, B, ... Z, AA, AB, ...
std::string part_letter(std::size_t i);

}  // namespace cw
