#pragma once

#include <optional>
#include <string>
#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// Title with its unit in brackets, as it stands along the axis: "supply current, DC [A]".
struct ChartAxis {
  std::string title;
  std::string unit;          ///< "degC" for temperatures, which a page can show in degF
  bool logarithmic = false;  ///< then every value is > 0
  bool from_zero = true;     ///< whether a y axis begins at 0; it need not where changes matter
  bool whole = false;        ///< numbers that are counted: nothing is marked between them
};

/// Values of one thing, in the units of the axes.
struct ChartSeries {
  std::string name;
  std::vector<double> x, y;  ///< equally many, lines only for x; bars: y, one per category
  Colour colour;
  std::optional<double> dash;       ///< of a line
  std::vector<Colour> own_colours;  ///< bars: of each category instead of `colour`; else empty
  std::vector<std::string> remarks = {};  ///< bars: a word behind each value; else empty
};

/// A line right across: a limit, a target, the temperature where heating stops.
struct ChartMark {
  std::string name;
  double value = 0.0;
  bool upright = false;  ///< at x = value; else at y = value. Of bars lying across: always at x.
  bool limit = false;    ///< drawn in the colour of limits
};

enum class ChartKind {
  lines,   ///< y against x
  bars,    ///< lying, one per category
  stacked  ///< standing, one per category, the series on top of each other
};

/// A chart as data: a picture, a table and a page show the same.
struct Chart {
  std::string id;  ///< file name and place in the page, [a-z-]
  std::string title;
  std::string note;  ///< what to see in it, a sentence; may be empty
  ChartKind kind = ChartKind::lines;
  ChartAxis x, y;  ///< bars: x has the values, y nothing
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

/// The chart as a drawing of fixed size, for paper.
Canvas chart_drawing(const Chart& chart);

/// The numbers of a chart in full, one header line with units, comma-separated (RFC 4180). Lines of
/// unlike x follow each other, their name in front.
std::string chart_table(const Chart& chart);

/// How the k-th line of a chart looks: apart for colour-blind eyes, and by their dashes in grey.
ChartSeries line_series(std::size_t k, std::string name);

/// Width of the k-th of so many lines [points]: the earlier ones lie under the later and are wider,
/// so that none is hidden where they run together.
double line_width(std::size_t k, std::size_t count);

/// What stands for a part of a stack where its name has no room: A, B, ... Z, AA, AB, ...
std::string part_letter(std::size_t i);

}  // namespace cw
