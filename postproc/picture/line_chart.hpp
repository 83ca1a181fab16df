#pragma once

#include <optional>
#include <string>
#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// A line of a chart, named at its right end.
struct ChartLine {
  std::string name;
  std::vector<std::pair<double, double>> points;
  bool dashed = false;
};

/// A place worth a mark.
struct ChartMark {
  double x = 0.0, y = 0.0;
  std::string text;
};

/// A chart with linear axes; both start at 0 unless values lie below. The limit is drawn in the
/// colour of limits.
struct LineChart {
  std::string title, subtitle, x_label, y_label;
  std::vector<ChartLine> lines;
  std::vector<ChartMark> marks;
  std::optional<ChartMark> limit;    ///< a level line at y
  std::optional<ChartMark> upright;  ///< a line at x
};

Canvas draw(const LineChart& chart);

}  // namespace cw
