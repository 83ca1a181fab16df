#pragma once

#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// Values at the corners of square cells, row by row from the top.
struct CornerGrid {
  int columns = 0, rows = 0;  ///< corners
  std::vector<double> values;
  [[nodiscard]] double at(int column, int row) const;
};

/// Contour of a value in cell units, x from the first column, y from the first row, as separate
/// straight pieces, linear along cell edges. Cells with NaN at a corner have none.
std::vector<Line> contour(const CornerGrid& grid, double level);

/// The same pieces joined to lines; for a closed contour the last point equals the first.
std::vector<Line> joined(const std::vector<Line>& pieces);

}  // namespace cw
