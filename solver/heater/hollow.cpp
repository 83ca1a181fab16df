#include "solver/heater/hollow.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "mesh/planar/outline.hpp"

namespace cw {

namespace {

// This number of cells and this offset keep the middles of cells away from round sizes: on the
// border of a body, inside and outside could not be told apart.
constexpr int across = 307;
constexpr double middle = 0.4871;

/// A raster of the half-plane round all metal, with a border of air.
class Raster {
 public:
  explicit Raster(const std::vector<const Outline*>& metal) {
    OutlineExtent all;
    for (const Outline* outline : metal) {
      const OutlineExtent e = extent_of(*outline);
      all.outer = std::max(all.outer, e.outer);
      all.low = std::min(all.low, e.low);
      all.high = std::max(all.high, e.high);
    }
    cell_ = std::max(all.outer, all.high - all.low) / across;
    low_ = all.low - cell_;
    columns_ = static_cast<int>(std::ceil(all.outer / cell_)) + 1;
    rows_ = static_cast<int>(std::ceil((all.high - all.low) / cell_)) + 2;
    taken_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_), 0);
    for (int row = 0; row < rows_; ++row)
      for (int column = 0; column < columns_; ++column)
        at(column, row) = std::ranges::any_of(metal, [&](const Outline* outline) {
          return inside(centre(column, row), outline->profile);
        });
  }

  /// Whether there is air that cannot be reached from outside.
  bool closed() {
    std::vector<std::pair<int, int>> open{{columns_ - 1, 0}};
    while (!open.empty()) {
      const auto [column, row] = open.back();
      open.pop_back();
      if (column < 0 || row < 0 || column >= columns_ || row >= rows_ || at(column, row)) continue;
      at(column, row) = 1;
      open.insert(open.end(),
                  {{column - 1, row}, {column + 1, row}, {column, row - 1}, {column, row + 1}});
    }
    // A few cells do not count: the raster cuts off corners where two bodies meet at an angle.
    constexpr int worth_a_word = 20;
    return std::ranges::count(taken_, 0) > worth_a_word;
  }

 private:
  char& at(int column, int row) {
    return taken_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                  static_cast<std::size_t>(column)];
  }
  [[nodiscard]] Point centre(int column, int row) const {
    return {(column + middle) * cell_, low_ + (row + middle) * cell_};
  }

  double cell_ = 0.0, low_ = 0.0;
  int columns_ = 0, rows_ = 0;
  std::vector<char> taken_;
};

}  // namespace

bool encloses_air(const Heater& heater) {
  std::vector<const Outline*> metal;
  if (heater.workpiece) metal.push_back(&heater.workpiece->outline);
  for (const Body& body : heater.bodies)
    if (!body.material.insulator()) metal.push_back(&body.outline);
  return !metal.empty() && Raster(metal).closed();
}

}  // namespace cw
