#pragma once

#include <span>
#include <vector>

#include "solver/fem/dofs.hpp"
#include "solver/fem/triangle.hpp"

namespace cw {

/// Upper triangle of a symmetric matrix in compressed columns, rows rising, the diagonal last:
/// structure only. Built once per mesh; every matrix of that mesh is an array of values on it.
struct Pattern {
  int size = 0;
  std::vector<int> column_start, row;
  std::vector<std::array<int, 21>>
      of_triangle;             ///< place of the entries (i, j <= i) of each triangle; -1 for fixed
  std::vector<int> of_clique;  ///< place of the entries (i, j <= i) of the coupled unknowns

  [[nodiscard]] std::size_t entries() const { return row.size(); }
};

/// Structure of the matrices of a mesh; `clique` are unknowns that all couple to each other.
Pattern make_pattern(const Mesh& mesh, const Dofs& dofs, const std::vector<int>& clique);

/// Adds the 6 x 6 matrix of triangle `t` to `values` (one per pattern entry).
void scatter(const Pattern& pattern, std::size_t t, const ElementMatrix<6>& element,
             std::span<double> values);

}  // namespace cw
