#include "postproc/picture/outlines.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <utility>

namespace cw {

namespace {

struct Edge {
  int to, middle;
};

/// Edges of the region's triangles that border on another region or on nothing, by first node.
std::multimap<int, Edge> free_edges(const Mesh& mesh, RegionId region) {
  std::map<std::pair<int, int>, int> middles;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    const auto& n = mesh.triangles[t];
    for (std::size_t k = 0; k < 3; ++k) middles[{n[k], n[(k + 1) % 3]}] = n[k + 3];
  }
  std::multimap<int, Edge> edges;
  for (const auto& [ends, middle] : middles) {
    if (!middles.contains({ends.second, ends.first}))
      edges.emplace(ends.first, Edge{ends.second, middle});
  }
  return edges;
}

/// Second-order edge a -> b through m at s in [0, 1].
Point on_edge(Point a, Point m, Point b, double s) {
  return (1 - s) * (1 - 2 * s) * a + 4 * s * (1 - s) * m + s * (2 * s - 1) * b;
}

}  // namespace

std::vector<std::vector<Point>> outlines(const Mesh& mesh, RegionId region, int pieces) {
  assert(pieces > 0);
  const auto node = [&](int i) { return mesh.nodes[static_cast<std::size_t>(i)]; };
  std::multimap<int, Edge> edges = free_edges(mesh, region);
  std::vector<std::vector<Point>> loops;
  while (!edges.empty()) {
    const int start = edges.begin()->first;
    int at = start;
    std::vector<Point> loop;
    do {
      const auto next = edges.find(at);
      assert(next != edges.end());
      const Edge edge = next->second;
      for (int k = 0; k < pieces; ++k) {
        loop.push_back(
            on_edge(node(at), node(edge.middle), node(edge.to), static_cast<double>(k) / pieces));
      }
      edges.erase(next);
      at = edge.to;
    } while (at != start);
    loops.push_back(std::move(loop));
  }
  return loops;
}

std::vector<Line> hatching(const std::vector<Line>& closed, double spacing) {
  assert(spacing > 0.0);
  constexpr double half = 0.70710678118654752;  // cos 45 degrees
  // In rotated axes, u along the hatch and v across it, every hatch line is v = k spacing.
  const auto u = [](Spot p) { return half * (p.x - p.y); };
  const auto v = [](Spot p) { return half * (p.x + p.y); };
  std::map<long, std::vector<double>> cuts;
  for (const auto& line : closed) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      const Spot a = line[i], b = line[(i + 1) % line.size()];
      const double low = std::min(v(a), v(b)), high = std::max(v(a), v(b));
      for (long k = std::lround(std::ceil(low / spacing)); static_cast<double>(k) * spacing < high;
           ++k) {
        const double share = (static_cast<double>(k) * spacing - v(a)) / (v(b) - v(a));
        cuts[k].push_back(u(a) + share * (u(b) - u(a)));
      }
    }
  }
  std::vector<Line> lines;
  for (auto& [k, at] : cuts) {
    std::sort(at.begin(), at.end());
    const double across = static_cast<double>(k) * spacing;
    const auto spot = [&](double along) {
      return Spot{half * (along + across), half * (across - along)};
    };
    for (std::size_t i = 0; i + 1 < at.size(); i += 2)
      lines.push_back({spot(at[i]), spot(at[i + 1])});
  }
  return lines;
}

}  // namespace cw
