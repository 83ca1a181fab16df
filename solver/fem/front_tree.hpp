#pragma once

#include <cstddef>
#include <vector>

#include "solver/fem/assembly.hpp"

namespace cw {

/// How a symmetric matrix of a pattern is eliminated front by front, from structure alone: groups
/// of successive columns with (nearly) the same rows below, children before parents. Source: J. W.
/// H. Liu, The multifrontal method for sparse matrix solution, SIAM Review 34 (1992) 82.
struct FrontTree {
  /// A group of columns: a dense panel of `rows` rows, whose first `pivots` are its own columns.
  struct Front {
    int first = 0;           ///< its first column, in order of elimination
    int pivots = 0;          ///< columns eliminated here
    int rows = 0;            ///< of the panel; rows - pivots of them are left to the parent
    int stride = 0;          ///< from one column to the next: rows and zeros to fill a register
    int parent = -1;         ///< front that takes what is left; -1: nothing is left
    std::size_t row_at = 0;  ///< of its rows in `row` and `in_parent`
    std::size_t at = 0;      ///< of its panel among the values, columns one after the other
    [[nodiscard]] int left() const { return rows - pivots; }
  };

  explicit FrontTree(const Pattern& pattern);

  int size = 0;
  std::vector<int> order;  ///< unknown that is eliminated k-th
  std::vector<Front> fronts;
  std::vector<int> row;             ///< of each front, in order of elimination, rising
  std::vector<int> in_parent;       ///< where each row of a front stands in its parent's panel
  std::vector<std::size_t> places;  ///< of each entry of the pattern among the values
  std::size_t values = 0;           ///< of all panels
  std::size_t stack = 0;            ///< most that is left to parents at one time, squares
};

}  // namespace cw
