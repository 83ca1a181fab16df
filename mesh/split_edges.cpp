#include "mesh/split_edges.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include "mesh/quality.hpp"
#include "mesh/triangulation.hpp"

namespace cw {

namespace {

/// Cosine of the largest angle of a triangle: smallest for the flattest.
double flatness(Point a, Point b, Point c) {
  const auto cosine = [](Point at, Point p, Point q) {
    const Point u = p - at, v = q - at;
    return (u.r * v.r + u.z * v.z) / (std::hypot(u.r, u.z) * std::hypot(v.r, v.z));
  };
  return std::min({cosine(a, b, c), cosine(b, c, a), cosine(c, a, b)});
}

/// The point a quarter of the way along an edge from `from`, on the circle through its three nodes.
Point quarter(Point from, Point middle, Point to) {
  const Point chord = to - from, off = middle - 0.5 * (from + to);
  const double half = 0.5 * std::hypot(chord.r, chord.z), rise = std::hypot(off.r, off.z);
  const Point between = 0.5 * (from + middle);
  if (rise < 1e-9 * half) return between;
  // Sagitta of half the arc: s' = R (1 - cos(angle/2)), with R and the angle from chord and rise.
  const double radius = 0.5 * (half * half + rise * rise) / rise;
  const double inner = 0.5 * std::hypot(half, rise);
  const double sagitta = radius - std::sqrt(std::max(0.0, radius * radius - inner * inner));
  const Point part = middle - from;
  Point out{part.z, -part.r};
  if (out.r * off.r + out.z * off.z < 0) out = -1.0 * out;
  return between + (sagitta / std::hypot(out.r, out.z)) * out;
}

/// Corners of a triangle and the middles of its edges, in reference coordinates.
struct Reference {
  double x, y;
};
constexpr std::array<Reference, 6> kNodes{{{0, 0}, {1, 0}, {0, 1}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}}};

/// Point of a second-order triangle at reference coordinates.
Point mapped(const std::array<Point, 6>& p, Reference at) {
  const double x = at.x, y = at.y, w = 1 - x - y;
  const std::array<double, 6> n{w * (2 * w - 1), x * (2 * x - 1), y * (2 * y - 1),
                                4 * w * x,       4 * x * y,       4 * y * w};
  Point sum;
  for (std::size_t i = 0; i < 6; ++i) sum = sum + n[i] * p[i];
  return sum;
}

/// A triangle of local nodes: 0 to 2 the corners, 3 to 5 the middles of edges 01, 12, 20.
using Child = std::array<int, 3>;

/// Children of a triangle if these edges are split.
std::vector<Child> children_of(const std::array<Point, 6>& p, const std::array<bool, 3>& cut) {
  const auto count = static_cast<int>(std::ranges::count(cut, true));
  if (count == 0) return {{0, 1, 2}};
  if (count == 3) return {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};
  // Rotated so that the split edge, or the one that is not split, is the first.
  const int k = static_cast<int>(std::ranges::find(cut, count == 1) - cut.begin());
  const int a = k, b = (k + 1) % 3, c = (k + 2) % 3;
  const int ab = 3 + a, bc = 3 + b, ca = 3 + c;
  if (count == 1) return {{a, ab, c}, {ab, b, c}};
  const double one = std::min(flatness(p[a], p[b], p[bc]), flatness(p[a], p[bc], p[ca])),
               other = std::min(flatness(p[a], p[b], p[ca]), flatness(p[b], p[bc], p[ca]));
  if (one >= other) return {{ca, bc, c}, {a, b, bc}, {a, bc, ca}};
  return {{ca, bc, c}, {a, b, ca}, {b, bc, ca}};
}

class Splitter {
 public:
  Splitter(const Mesh& mesh, std::vector<char> marked) : old_(mesh), marked_(std::move(marked)) {}

  Mesh run() {
    while (mark_against_flat_triangles()) {
    }
    number_vertices();
    for (std::size_t t = 0; t < old_.triangles.size(); ++t) split(t);
    for (const BorderEdge& edge : old_.border) split(edge);
    new_.region_name = old_.region_name;
    new_.centre = old_.centre;
    new_.open_radius = old_.open_radius;
    new_.cores = old_.cores;
    require_quality(new_);
    return std::move(new_);
  }

 private:
  [[nodiscard]] bool is_marked(int middle) const { return marked_[middle - old_.vertices] != 0; }

  [[nodiscard]] std::array<bool, 3> cut_edges(std::size_t t) const {
    const auto& nodes = old_.triangles[t];
    return {is_marked(nodes[3]), is_marked(nodes[4]), is_marked(nodes[5])};
  }

  [[nodiscard]] std::array<Point, 6> points(std::size_t t) const {
    std::array<Point, 6> p;
    for (std::size_t i = 0; i < 6; ++i) p[i] = old_.nodes[old_.triangles[t][i]];
    return p;
  }

  /// Marks the longest unsplit edge of triangles whose children would be flatter than they are;
  /// true if there were any.
  bool mark_against_flat_triangles() {
    const double flat = std::cos(150 * std::numbers::pi / 180);
    bool any = false;
    for (std::size_t t = 0; t < old_.triangles.size(); ++t) {
      const auto cut = cut_edges(t);
      const auto count = std::ranges::count(cut, true);
      if (count == 0 || count == 3) continue;
      const auto p = points(t);
      const double parent = flatness(p[0], p[1], p[2]);
      const bool worse = std::ranges::any_of(children_of(p, cut), [&](const Child& c) {
        const double child = flatness(p[c[0]], p[c[1]], p[c[2]]);
        return child < flat && child < parent - 1e-6;
      });
      if (!worse) continue;
      std::size_t longest = 3;
      double length = 0;
      for (std::size_t k = 0; k < 3; ++k)
        if (const double d = distance(p[k], p[(k + 1) % 3]); !cut[k] && d > length) {
          length = d;
          longest = k;
        }
      marked_[old_.triangles[t][3 + longest] - old_.vertices] = 1;
      any = true;
    }
    return any;
  }

  /// Corners first, then the middles that become corners, then middles.
  void number_vertices() {
    new_.nodes.assign(old_.nodes.begin(), old_.nodes.begin() + static_cast<long>(old_.vertices));
    number_.assign(old_.nodes.size(), -1);
    for (std::size_t i = 0; i < old_.vertices; ++i) number_[i] = static_cast<int>(i);
    for (std::size_t i = old_.vertices; i < old_.nodes.size(); ++i)
      if (marked_[i - old_.vertices] != 0) {
        number_[i] = static_cast<int>(new_.nodes.size());
        new_.nodes.push_back(old_.nodes[i]);
      }
    new_.vertices = new_.nodes.size();
  }

  void split(std::size_t t) {
    const auto p = points(t);
    for (const Child& child : children_of(p, cut_edges(t))) {
      std::array<int, 6> nodes{};
      for (std::size_t k = 0; k < 3; ++k) {
        nodes[k] = number_[old_.triangles[t][child[k]]];
        nodes[3 + k] = middle(t, p, child[k], child[(k + 1) % 3]);
      }
      new_.triangles.push_back(nodes);
      new_.region.push_back(old_.region[t]);
    }
  }

  /// Node in the middle of the new edge between local nodes `a` and `b` of triangle `t`.
  int middle(std::size_t t, const std::array<Point, 6>& p, int a, int b) {
    const auto& nodes = old_.triangles[t];
    const auto [it, fresh] = middle_.try_emplace(edge_key(number_[nodes[a]], number_[nodes[b]]),
                                                 static_cast<int>(new_.nodes.size()));
    if (fresh) new_.nodes.push_back(middle_point(p, a, b));
    return it->second;
  }

  static Point middle_point(const std::array<Point, 6>& p, int a, int b) {
    if (a > b) std::swap(a, b);
    if (b < 3) return p[3 + (a + 1 == b ? a : 2)];  // an unsplit edge of the parent
    const int from = b - 3, to = (b - 2) % 3;
    if (a == from) return quarter(p[from], p[b], p[to]);
    if (a == to) return quarter(p[to], p[b], p[from]);
    return mapped(p, {0.5 * (kNodes[a].x + kNodes[b].x), 0.5 * (kNodes[a].y + kNodes[b].y)});
  }

  void split(const BorderEdge& edge) {
    const auto add = [&](int from, int to) {
      new_.border.push_back({from, to, middle_.at(edge_key(from, to)), edge.side});
    };
    const int from = number_[edge.from], to = number_[edge.to];
    if (!is_marked(edge.middle)) return add(from, to);
    add(from, number_[edge.middle]);
    add(number_[edge.middle], to);
  }

  const Mesh& old_;
  std::vector<char> marked_;
  std::vector<int> number_;  ///< of old nodes in the new mesh; -1 for middles that remain middles
  std::unordered_map<std::uint64_t, int> middle_;
  Mesh new_;
};

}  // namespace

Mesh split_edges(const Mesh& mesh, std::vector<char> marked) {
  return Splitter(mesh, std::move(marked)).run();
}

}  // namespace cw
