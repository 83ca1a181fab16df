#pragma once

#include <cstddef>
#include <vector>

#include "solver/fem/assembly.hpp"

namespace cw {

/// The order in which a symmetric matrix of a pattern is eliminated front by front, from its
/// structure alone. A front is a group of successive columns with (nearly) the same rows below;
/// children come before parents. Source: J. W. H. Liu, The multifrontal method for sparse matrix
/// solution, SIAM Review 34 (1992) 82.
struct FrontTree {
  /// A group of columns: a dense panel of `rows` rows, whose first `pivots` are its own columns.
  struct Front {
    int first = 0;           ///< its first column, in order of elimination
    int pivots = 0;          ///< columns eliminated here
    int rows = 0;            ///< of the panel; rows - pivots of them are passed to the parent
    int stride = 0;          ///< distance between columns: rows plus zeros that fill a register
    int parent = -1;         ///< front that receives the rest; -1: there is no rest
    std::size_t row_at = 0;  ///< index of its rows in `row` and `in_parent`
    std::size_t at = 0;      ///< index of its panel among the values, columns contiguous
    [[nodiscard]] int left() const { return rows - pivots; }
  };

  explicit FrontTree(const Pattern& pattern);

  int size = 0;
  std::vector<int> order;  ///< the unknown that is eliminated k-th
  std::vector<Front> fronts;
  std::vector<int> row;             ///< of each front, in order of elimination, rising
  std::vector<int> in_parent;       ///< position of each row of a front in its parent's panel
  std::vector<std::size_t> places;  ///< index of each entry of the pattern among the values
  std::size_t values = 0;           ///< of all panels
  std::size_t stack = 0;  ///< largest size of what waits for parents at one time, stored as squares
};

}  // namespace cw
