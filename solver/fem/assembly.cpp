#include "solver/fem/assembly.hpp"

#include <algorithm>

namespace cw {

namespace {

/// For each unknown, the earlier unknowns coupled to it, and itself: the columns of the upper
/// triangle.
std::vector<std::vector<int>> couplings(const Mesh& mesh, const Dofs& dofs,
                                        const std::vector<int>& clique) {
  std::vector<std::vector<int>> above(dofs.count);
  for (auto& column : above) column.reserve(24);
  const auto couple = [&](int a, int b) {
    if (a >= 0 && b >= 0) above[std::max(a, b)].push_back(std::min(a, b));
  };
  for (const auto& t : mesh.triangles)
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j) couple(dofs.of_node[t[i]], dofs.of_node[t[j]]);
  for (std::size_t i = 0; i < clique.size(); ++i)
    for (std::size_t j = 0; j <= i; ++j) couple(clique[i], clique[j]);
  return above;
}

}  // namespace

int place_of(const Pattern& p, int a, int b) {
  if (a < 0 || b < 0) return -1;
  const auto begin = p.row.begin() + p.column_start[std::max(a, b)];
  const auto end = p.row.begin() + p.column_start[std::max(a, b) + 1];
  return static_cast<int>(std::lower_bound(begin, end, std::min(a, b)) - p.row.begin());
}

Pattern pattern_of(std::vector<std::vector<int>> columns) {
  Pattern p;
  p.size = static_cast<int>(columns.size());
  p.column_start.assign(1, 0);
  for (auto& column : columns) {
    std::sort(column.begin(), column.end());
    column.erase(std::unique(column.begin(), column.end()), column.end());
    p.row.insert(p.row.end(), column.begin(), column.end());
    p.column_start.push_back(static_cast<int>(p.row.size()));
  }
  return p;
}

Pattern make_pattern(const Mesh& mesh, const Dofs& dofs, const std::vector<int>& clique) {
  Pattern p = pattern_of(couplings(mesh, dofs, clique));
  p.of_triangle.resize(mesh.triangles.size());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    int k = 0;
    for (int i = 0; i < 6; ++i)
      for (int j = 0; j <= i; ++j)
        p.of_triangle[t][k++] =
            place_of(p, dofs.of_node[mesh.triangles[t][i]], dofs.of_node[mesh.triangles[t][j]]);
  }
  for (std::size_t i = 0; i < clique.size(); ++i)
    for (std::size_t j = 0; j <= i; ++j) p.of_clique.push_back(place_of(p, clique[i], clique[j]));
  return p;
}

void scatter(const Pattern& pattern, std::size_t t, const ElementMatrix<6>& element,
             std::span<double> values) {
  const auto& place = pattern.of_triangle[t];
  int k = 0;
  for (int i = 0; i < 6; ++i)
    for (int j = 0; j <= i; ++j, ++k)
      if (place[k] >= 0) values[place[k]] += element(i, j);
}

void scatter_clique(const Pattern& pattern, const Eigen::MatrixXd& matrix,
                    std::span<double> values) {
  auto place = pattern.of_clique.begin();
  for (Eigen::Index i = 0; i < matrix.rows(); ++i)
    for (Eigen::Index j = 0; j <= i; ++j, ++place)
      if (*place >= 0) values[*place] += matrix(i, j);
}

}  // namespace cw
