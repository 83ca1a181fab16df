#include "solver/fem/dofs.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>

namespace cw {

namespace {

using Graph = Eigen::SparseMatrix<int>;

/// Corner graph: a link for every edge of a triangle, and between all coupled corners.
Graph corner_graph(const Mesh& mesh, const std::vector<char>& is_fixed,
                   const std::vector<int>& coupled) {
  std::vector<Eigen::Triplet<int>> links;
  links.reserve(6 * mesh.triangles.size() + coupled.size() * coupled.size());
  const auto link = [&](int a, int b) {
    if (!is_fixed[a] && !is_fixed[b]) links.emplace_back(a, b, 1);
  };
  for (const auto& t : mesh.triangles)
    for (int i = 0; i < 3; ++i) {
      link(t[i], t[(i + 1) % 3]);
      link(t[(i + 1) % 3], t[i]);
    }
  // Eigen's minimum degree treats a column without a diagonal entry as dense.
  for (int v = 0; v < static_cast<int>(mesh.vertices); ++v) links.emplace_back(v, v, 1);
  for (const int a : coupled)
    for (const int b : coupled)
      if (a != b && a < static_cast<int>(mesh.vertices) && b < static_cast<int>(mesh.vertices))
        link(a, b);
  Graph graph(static_cast<int>(mesh.vertices), static_cast<int>(mesh.vertices));
  graph.setFromTriplets(links.begin(), links.end());
  return graph;
}

/// Mid-edge nodes at each corner, as compressed rows.
struct MiddlesOfCorner {
  std::vector<int> start, node;
};

MiddlesOfCorner middles_of_corner(const Mesh& mesh) {
  MiddlesOfCorner m;
  m.start.assign(mesh.vertices + 1, 0);
  for (const auto& t : mesh.triangles)
    for (int i = 0; i < 3; ++i) m.start[t[i] + 1] += 2;
  for (std::size_t v = 0; v < mesh.vertices; ++v) m.start[v + 1] += m.start[v];
  m.node.resize(m.start.back());
  std::vector<int> next(m.start.begin(), m.start.end() - 1);
  for (const auto& t : mesh.triangles)
    for (int i = 0; i < 3; ++i) {
      m.node[next[t[i]]++] = t[3 + i];
      m.node[next[t[i]]++] = t[3 + (i + 2) % 3];
    }
  return m;
}

}  // namespace

Dofs number_dofs(const Mesh& mesh, const std::vector<char>& is_fixed,
                 const std::vector<int>& coupled) {
  const Graph graph = corner_graph(mesh, is_fixed, coupled);
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
  Eigen::AMDOrdering<int>()(graph, order);
  const MiddlesOfCorner middles = middles_of_corner(mesh);
  Dofs dofs;
  dofs.of_node.assign(mesh.nodes.size(), Dofs::fixed);
  const auto number = [&](int node) {
    if (!is_fixed[node] && dofs.of_node[node] == Dofs::fixed) dofs.of_node[node] = dofs.count++;
  };
  for (int k = 0; k < order.size(); ++k) {
    const int corner = order.indices()[k];
    if (is_fixed[corner]) continue;
    for (int i = middles.start[corner]; i < middles.start[corner + 1]; ++i) number(middles.node[i]);
    number(corner);
  }
  for (std::size_t node = mesh.vertices; node < mesh.nodes.size(); ++node)
    number(static_cast<int>(node));
  return dofs;
}

}  // namespace cw
