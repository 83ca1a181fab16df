#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "mesh/layers.hpp"

namespace cw {

namespace {

/// A side of a loop as seen from its region: inward normal, and whether layers grow from it.
struct Wall {
  Point start, end, along, inward;
  double
      weight;  ///< 1 grows layers; 0 is a cut plane along which the layers of its neighbours slide
};

Wall wall(const Arrangement& a, const Step& s) {
  const Point p = a.corners[a.start(s)], q = a.corners[a.end(s)];
  const Point along = (1 / distance(p, q)) * (q - p);
  return {p, q, along, {-along.z, along.r}, a.curves[s.curve].cut() ? 0.0 : 1.0};
}

/// Velocity of a corner when its two sides move inwards at their weights.
Point corner_velocity(const Wall& in, const Wall& out) {
  const double det = cross(in.inward, out.inward);
  if (std::abs(det) < 1e-6)
    return in.weight >= out.weight ? in.weight * in.inward : out.weight * out.inward;
  return {(in.weight * out.inward.z - out.weight * in.inward.z) / det,
          (out.weight * in.inward.r - in.weight * out.inward.r) / det};
}

struct InsetLoop {
  std::vector<Wall> walls;
  std::vector<Point> velocity;  ///< of the corner at the start of each wall
};

InsetLoop inset_loop(const Arrangement& a, const Loop& loop) {
  InsetLoop result;
  for (const Step& s : loop) result.walls.push_back(wall(a, s));
  const std::size_t n = loop.size();
  for (std::size_t i = 0; i < n; ++i)
    result.velocity.push_back(corner_velocity(result.walls[(i + n - 1) % n], result.walls[i]));
  return result;
}

double distance_to_wall(Point p, const Wall& w) {
  const double t = std::clamp(dot(p - w.start, w.along), 0.0, distance(w.start, w.end));
  return distance(p, w.start + t * w.along);
}

/// Depth at which a side of this loop has shrunk to zero length.
double depth_of_collapse(const InsetLoop& loop) {
  double least = std::numeric_limits<double>::infinity();
  const std::size_t n = loop.walls.size();
  for (std::size_t i = 0; i < n; ++i) {
    const double rate = dot(loop.velocity[(i + 1) % n] - loop.velocity[i], loop.walls[i].along);
    if (rate < 0) least = std::min(least, distance(loop.walls[i].start, loop.walls[i].end) / -rate);
  }
  return least;
}

/// Makes the strips of one loop and returns the loop of nodes round the rest.
class StripLayer {
 public:
  StripLayer(const Arrangement& a, RegionId id, const std::vector<double>& depths,
             CurveNodes& nodes, Triangulation& mesh)
      : a_(a), id_(id), depths_(depths), nodes_(nodes), mesh_(mesh) {}

  NodeLoop lay(const Loop& loop, const EdgeLength& edge) {
    const InsetLoop inset = inset_loop(a_, loop);
    make_corner_columns(loop, inset);
    NodeLoop core;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const std::vector<int> row =
          inset.walls[i].weight > 0 ? lay_strip(loop[i], i, inset) : fill_cut(loop[i], i, edge);
      core.insert(core.end(), row.begin(), row.end() - 1);
    }
    return core;
  }

 private:
  /// Nodes of each corner from the surface to the innermost depth; a single node between two cut
  /// planes.
  void make_corner_columns(const Loop& loop, const InsetLoop& inset) {
    columns_.clear();
    const std::size_t n = loop.size();
    for (std::size_t i = 0; i < n; ++i) {
      std::vector<int> column{a_.start(loop[i])};
      if (inset.walls[(i + n - 1) % n].weight + inset.walls[i].weight > 0)
        for (std::size_t k = 1; k < depths_.size(); ++k)
          column.push_back(mesh_.add_node(inset.walls[i].start + depths_[k] * inset.velocity[i]));
      columns_.push_back(std::move(column));
    }
  }

  std::vector<int> lay_strip(const Step& step, std::size_t i, const InsetLoop& inset) {
    std::vector<int> row = nodes_[step.curve];
    if (!step.forward) std::reverse(row.begin(), row.end());
    const auto& first = columns_[i];
    const auto& last = columns_[(i + 1) % columns_.size()];
    const double length = distance(inset.walls[i].start, inset.walls[i].end);
    std::vector<double> fraction;
    fraction.reserve(row.size());
    for (const int node : row)
      fraction.push_back(distance(mesh_.nodes[node], inset.walls[i].start) / length);
    for (std::size_t k = 1; k < depths_.size(); ++k) {
      std::vector<int> next{first[k]};
      for (std::size_t j = 1; j + 1 < row.size(); ++j)
        next.push_back(mesh_.add_node((1 - fraction[j]) * mesh_.nodes[first[k]] +
                                      fraction[j] * mesh_.nodes[last[k]]));
      next.push_back(last[k]);
      for (std::size_t j = 0; j + 1 < row.size(); ++j)
        mesh_.add_quad(row[j], row[j + 1], next[j + 1], next[j], id_);
      row = std::move(next);
    }
    return row;
  }

  /// Nodes of a cut plane: the ends of the strips on either side, and the core between them.
  std::vector<int> fill_cut(const Step& step, std::size_t i, const EdgeLength& edge) {
    const auto& first = columns_[i];
    const auto& last = columns_[(i + 1) % columns_.size()];
    const Point a = mesh_.nodes[first.back()], b = mesh_.nodes[last.back()];
    const double length = distance(a, b);
    const Point along = (1 / length) * (b - a);
    const double innermost =
        depths_.size() > 1 ? depths_.back() - depths_[depths_.size() - 2] : longest;
    const auto wanted = [&](double s) {
      return std::min(edge.on_curve(a_.curves[step.curve], a + s * along),
                      std::max(1.5 * innermost, length / 6));
    };
    std::vector<int> core{first.back()};
    const auto s = spread(length, wanted, 1);
    for (std::size_t k = 1; k + 1 < s.size(); ++k) core.push_back(mesh_.add_node(a + s[k] * along));
    core.push_back(last.back());
    std::vector<int> all(first.begin(), first.end() - 1);
    all.insert(all.end(), core.begin(), core.end());
    all.insert(all.end(), last.rbegin() + 1, last.rend());
    if (!step.forward) std::reverse(all.begin(), all.end());
    nodes_[step.curve] = std::move(all);
    return core;
  }

  static constexpr double longest = std::numeric_limits<double>::infinity();
  const Arrangement& a_;
  RegionId id_;
  const std::vector<double>& depths_;
  CurveNodes& nodes_;
  Triangulation& mesh_;
  std::vector<std::vector<int>> columns_;
};

/// Cut planes of bodies get their nodes with the body's layers or rings.
bool inside_body(const Curve& c) {
  return c.cut() && (c.left > 0 || c.right > 0);
}

}  // namespace

CurveNodes place_curve_nodes(const Arrangement& arrangement, const EdgeLength& edge,
                             const OpenSpace& open, Triangulation& mesh) {
  for (const Point p : arrangement.corners) mesh.add_node(p);
  CurveNodes nodes(arrangement.curves.size());
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const Curve& c = arrangement.curves[i];
    if (inside_body(c)) continue;
    const Point a = arrangement.corners[c.from], b = arrangement.corners[c.to],
                centre{0, open.centre_z};
    const double length = c.arc ? std::numbers::pi * open.radius : distance(a, b);
    const auto at = [&](double s) {
      if (!c.arc) return a + (s / length) * (b - a);
      const double angle = s / open.radius;  // from the south pole
      return centre + open.radius * Point{std::sin(angle), -std::cos(angle)};
    };
    const auto s = spread(
        length, [&](double x) { return edge.on_curve(c, at(x)); }, c.arc ? 8 : 1);
    nodes[i].push_back(c.from);
    for (std::size_t k = 1; k + 1 < s.size(); ++k) nodes[i].push_back(mesh.add_node(at(s[k])));
    nodes[i].push_back(c.to);
    if (c.arc)
      for (std::size_t k = 0; k + 1 < nodes[i].size(); ++k)
        mesh.arcs[edge_key(nodes[i][k], nodes[i][k + 1])] = {centre, open.radius};
  }
  return nodes;
}

std::vector<NodeLoop> lay_polygon(const MeshSoFar& so_far, RegionId id,
                                  const std::vector<double>& depths) {
  const Arrangement& arrangement = so_far.arrangement;
  StripLayer layer(arrangement, id, depths, so_far.nodes, so_far.mesh);
  std::vector<NodeLoop> core;
  for (const Loop& loop : arrangement.loops[id]) core.push_back(layer.lay(loop, so_far.edge));
  return core;
}

double room_for_layers(const Arrangement& arrangement, RegionId id) {
  std::vector<InsetLoop> loops;
  for (const Loop& loop : arrangement.loops[id]) loops.push_back(inset_loop(arrangement, loop));
  double room = std::numeric_limits<double>::infinity();
  for (const InsetLoop& loop : loops) room = std::min(room, depth_of_collapse(loop));
  for (const InsetLoop& corner_loop : loops)
    for (std::size_t i = 0; i < corner_loop.walls.size(); ++i) {
      const std::size_t n = corner_loop.walls.size();
      const Point p = corner_loop.walls[i].start;
      for (const InsetLoop& other : loops)
        for (std::size_t j = 0; j < other.walls.size(); ++j) {
          if (&other == &corner_loop && (j == i || (j + 1) % n == i)) continue;
          const double closing =
              other.walls[j].weight - dot(corner_loop.velocity[i], other.walls[j].inward);
          if (closing <= 0 || dot(p - other.walls[j].start, other.walls[j].inward) <= 0) continue;
          room = std::min(room, distance_to_wall(p, other.walls[j]) / closing);
        }
    }
  // A third of a wall is left between the layers of its two sides.
  return 0.67 * room;
}

}  // namespace cw
