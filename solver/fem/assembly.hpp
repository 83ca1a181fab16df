#pragma once

#include <span>
#include <vector>

#include "solver/fem/dofs.hpp"
#include "solver/fem/product.hpp"
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

/// The structure with these rows in each column, the diagonal among them; in any order, repeated or
/// not.
Pattern pattern_of(std::vector<std::vector<int>> columns);
/// Place of the entry of two unknowns that couple; -1 when one of them is fixed (below 0).
int place_of(const Pattern& pattern, int a, int b);

/// Structure of the matrices of a mesh; `clique` are unknowns that all couple to each other.
Pattern make_pattern(const Mesh& mesh, const Dofs& dofs, const std::vector<int>& clique);

/// Adds the 6 x 6 matrix of triangle `t` to `values` (one per pattern entry).
void scatter(const Pattern& pattern, std::size_t t, const ElementMatrix<6>& element,
             std::span<double> values);

/// Adds A x to y: A symmetric, entry(k) at each place of the pattern.
template <class Scalar, class Entry>
void add_product(const Pattern& pattern, const Entry& entry,
                 const Eigen::Vector<Scalar, Eigen::Dynamic>& x,
                 Eigen::Vector<Scalar, Eigen::Dynamic>& y) {
  for (int column = 0; column < pattern.size; ++column) {
    const int diagonal = pattern.column_start[column + 1] - 1;
    const Scalar here = x[column];
    Scalar sum = product(entry(diagonal), here);
    for (int k = pattern.column_start[column]; k < diagonal; ++k) {
      const int row = pattern.row[k];
      y[row] += product(entry(k), here);
      sum += product(entry(k), x[row]);
    }
    y[column] += sum;
  }
}

}  // namespace cw
