#include "postproc/picture/grid_contours.hpp"

#include <array>

namespace cw {

namespace {

/// Where the level lies on the edge from a to b; only called where they stand on either side.
Spot crossing(Spot a, double value_a, Spot b, double value_b, double level) {
  const double share = (level - value_a) / (value_b - value_a);
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

}  // namespace

double CornerGrid::at(int column, int row) const {
  return values[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
                static_cast<std::size_t>(column)];
}

std::vector<Line> contour(const CornerGrid& grid, double level) {
  std::vector<Line> lines;
  for (int row = 0; row + 1 < grid.rows; ++row) {
    for (int column = 0; column + 1 < grid.columns; ++column) {
      const std::array<Spot, 4> corner{{{1.0 * column, 1.0 * row},
                                        {column + 1.0, 1.0 * row},
                                        {column + 1.0, row + 1.0},
                                        {1.0 * column, row + 1.0}}};
      const std::array<double, 4> value{grid.at(column, row), grid.at(column + 1, row),
                                        grid.at(column + 1, row + 1), grid.at(column, row + 1)};
      Line found;
      for (std::size_t k = 0; k < 4; ++k) {
        const std::size_t next = (k + 1) % 4;
        if ((value[k] < level) != (value[next] < level))
          found.push_back(crossing(corner[k], value[k], corner[next], value[next], level));
      }
      // Four crossings are a saddle: either pairing is right to within a cell.
      for (std::size_t k = 0; k + 1 < found.size(); k += 2)
        lines.push_back({found[k], found[k + 1]});
    }
  }
  return lines;
}

}  // namespace cw
