#pragma once

#include <span>
#include <vector>

#include "solver/fem/dofs.hpp"
#include "solver/fem/potential.hpp"
#include "solver/fem/product.hpp"

namespace cw {

/// Upper triangle of a symmetric matrix in compressed columns, rows rising, the diagonal last:
/// structure only. Built once per mesh; every matrix of that mesh is an array of values on it.
struct Pattern {
  int size = 0;
  std::vector<int> column_start, row;
  std::vector<std::array<int, 21>>
      of_triangle;  ///< index of the entries (i, j <= i) of each triangle; -1 for fixed unknowns
  std::vector<int> of_clique;  ///< index of the entries (i, j <= i) of the coupled unknowns

  [[nodiscard]] std::size_t entries() const { return row.size(); }
};

/// The structure with these rows in each column, the diagonal included; they may be in any order
/// and repeated.
Pattern pattern_of(std::vector<std::vector<int>> columns);
/// Index of the entry of two coupled unknowns; -1 if one of them is fixed (below 0).
int place_of(const Pattern& pattern, int a, int b);

/// Structure of the matrices of a mesh; `clique` are unknowns that all couple to each other.
Pattern make_pattern(const Mesh& mesh, const Dofs& dofs, const std::vector<int>& clique);

/// Adds the 6 x 6 matrix of triangle `t` to `values` (one per pattern entry).
void scatter(const Pattern& pattern, std::size_t t, const ElementMatrix<6>& element,
             std::span<double> values);
/// Adds the matrix of the coupled unknowns of make_pattern() to `values`.
void scatter_clique(const Pattern& pattern, const Eigen::MatrixXd& matrix,
                    std::span<double> values);

/// Makes `values` the matrix of `Form` over the mesh, one per pattern entry. `coefficient(t, q)` is
/// the coefficient of the form in triangle `t` at node `q` of TriangleRule. A triangle in which it
/// is zero everywhere is skipped.
template <BilinearForm<6> Form, class Coefficient>
void assemble(const Mesh& mesh, const Pattern& pattern, const Coefficient& coefficient,
              std::vector<double>& values) {
  values.assign(pattern.entries(), 0.0);
  std::array<double, 12> here{};
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t q = 0; q < here.size(); ++q) here[q] = coefficient(t, q);
    if (here == std::array<double, 12>{}) continue;
    scatter(pattern, t, integrate<Form>(here, potential_samples(mesh, t)), values);
  }
}

/// Adds A x to y: A symmetric, entry(k) is the value of pattern entry k.
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
