#include "postproc/picture/grid_contours.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace cw {

namespace {

/// The point of the edge from a to b that has the level; only called if the level lies between the
/// values.
Spot crossing(Spot a, double value_a, Spot b, double value_b, double level) {
  // Same result from both cells.
  if (value_b < value_a) return crossing(b, value_b, a, value_a, level);
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
      if (std::isnan(value[0] + value[1] + value[2] + value[3])) continue;
      Line found;
      for (std::size_t k = 0; k < 4; ++k) {
        const std::size_t next = (k + 1) % 4;
        if ((value[k] < level) != (value[next] < level))
          found.push_back(crossing(corner[k], value[k], corner[next], value[next], level));
      }
      // Four crossings are a saddle: either pairing is accurate to within a cell.
      for (std::size_t k = 0; k + 1 < found.size(); k += 2)
        lines.push_back({found[k], found[k + 1]});
    }
  }
  return lines;
}

std::vector<Line> joined(const std::vector<Line>& pieces) {
  std::multimap<std::pair<double, double>, std::size_t> at;  // indices of pieces by both ends
  const auto key = [](Spot s) { return std::pair(s.x, s.y); };
  for (std::size_t i = 0; i < pieces.size(); ++i)
    for (const Spot end : {pieces[i].front(), pieces[i].back()}) at.emplace(key(end), i);
  std::vector<char> used(pieces.size(), 0);
  const auto grow = [&](Line& line) {
    for (bool found = true; found;) {
      found = false;
      const auto [first, last] = at.equal_range(key(line.back()));
      for (auto it = first; it != last && !found; ++it) {
        if (used[it->second] != 0) continue;
        const Line& piece = pieces[it->second];
        used[it->second] = 1;
        line.push_back(piece.front() == line.back() ? piece.back() : piece.front());
        found = true;
      }
    }
  };
  std::vector<Line> lines;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (used[i] != 0) continue;
    used[i] = 1;
    Line line = pieces[i];
    grow(line);
    if (!(line.front() == line.back())) {
      std::reverse(line.begin(), line.end());
      grow(line);
    }
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace cw
