#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/layers.hpp"

namespace cw {

namespace {

using std::numbers::pi;

/// Growth factor of `count` layers with total thickness `total`, the first of them 1 thick.
double growth_to_fill(double total, int count) {
  double low = 1.0, high = 1e3;
  for (int k = 0; k < 60; ++k) {
    const double g = 0.5 * (low + high);
    (std::pow(g, count) - 1.0 > total * (g - 1.0) ? high : low) = g;
  }
  return low;
}

/// Radii of the rings from the surface inwards; the last is the bore, or small enough to close with
/// a fan.
std::vector<double> ring_radii(const Disc& disc, double skin_depth, const Sizing& sizing,
                               double edge) {
  const double wall = disc.radius - disc.bore;
  const bool layered = std::isfinite(skin_depth);
  const double end = disc.bore > 0 ? wall : std::max(wall - 1.2 * edge, 0.5 * wall);
  const double first = std::min(layered ? sizing.disc_first_layer * skin_depth : edge, end);
  // As many layers as the wanted growth needs; then less growth instead of a thicker first layer.
  int count = 0;
  for (double depth = 0, thickness = first; depth < 0.99 * end;
       thickness *= layered ? sizing.disc_growth : 1.0, ++count)
    depth += thickness;
  const double growth = count * first < end ? growth_to_fill(end / first, count) : 1.0;
  std::vector<double> radii{disc.radius};
  double depth = 0, thickness = growth > 1.0 ? first : end / count;
  for (int k = 1; k < count; ++k, thickness *= growth)
    radii.push_back(disc.radius - (depth += thickness));
  radii.push_back(disc.radius - end);
  return radii;
}

class DiscMesher {
 public:
  DiscMesher(const Disc& disc, Triangulation& mesh)
      : disc_(disc), mesh_(mesh), whole_(disc.centre.r > 0) {}

  /// Angles from +r; a full circle starts at the side that faces the axis.
  void place(const EdgeLength& edge, RegionId id, int least) {
    const double span = whole_ ? 2 * pi : pi, begin = whole_ ? -pi : -pi / 2;
    const auto wanted = [&](double s) {
      return edge.on_disc(id, at(begin + s / disc_.radius, disc_.radius));
    };
    for (const double s : spread(span * disc_.radius, wanted, least))
      angles_.push_back(begin + s / disc_.radius);
    if (whole_) angles_.pop_back();
  }

  /// A ring of nodes; on a half circle the poles may exist already.
  NodeLoop ring(double radius, int south = -1, int north = -1) {
    NodeLoop nodes;
    for (std::size_t j = 0; j < angles_.size(); ++j) {
      const bool first = j == 0, last = j + 1 == angles_.size();
      Point p = at(angles_[j], radius);
      if (!whole_ && (first || last)) p.r = 0.0;
      const int existing = first ? south : last ? north : -1;
      nodes.push_back(existing >= 0 ? existing : mesh_.add_node(p));
    }
    for (std::size_t j = 0; j < segments(); ++j)
      mesh_.arcs[edge_key(nodes[j], nodes[(j + 1) % nodes.size()])] = {disc_.centre, radius};
    return nodes;
  }

  void join(const NodeLoop& outer, const NodeLoop& inner, RegionId id) {
    for (std::size_t j = 0; j < segments(); ++j) {
      const std::size_t k = (j + 1) % outer.size();
      const auto [a, b] = mesh_.add_quad(outer[j], outer[k], inner[k], inner[j], id);
      // A straight diagonal would cut the curved side of a thin ring.
      const double radius =
          0.5 * (distance(mesh_.nodes[a], disc_.centre) + distance(mesh_.nodes[b], disc_.centre));
      mesh_.arcs[edge_key(a, b)] = {disc_.centre, radius};
    }
  }

  int fan(const NodeLoop& ring, RegionId id) {
    const int hub = mesh_.add_node(disc_.centre);
    for (std::size_t j = 0; j < segments(); ++j)
      mesh_.add_triangle(ring[j], ring[(j + 1) % ring.size()], hub, id);
    return hub;
  }

  [[nodiscard]] bool whole() const { return whole_; }
  [[nodiscard]] double mean_edge() const {
    return (whole_ ? 2 : 1) * pi * disc_.radius / static_cast<double>(segments());
  }

 private:
  [[nodiscard]] Point at(double angle, double radius) const {
    return disc_.centre + radius * Point{std::cos(angle), std::sin(angle)};
  }
  [[nodiscard]] std::size_t segments() const {
    return whole_ ? angles_.size() : angles_.size() - 1;
  }

  const Disc disc_;
  Triangulation& mesh_;
  bool whole_;
  std::vector<double> angles_;
};

}  // namespace

NodeLoop mesh_disc(const DiscPlan& plan, const EdgeLength& edge, const Sizing& sizing,
                   Triangulation& mesh, std::vector<BorderEdge>& border) {
  const Disc& disc = plan.disc;
  const RegionId id = plan.id;
  DiscMesher mesher(disc, mesh);
  mesher.place(edge, id, mesher.whole() ? 12 : 8);
  const auto radii = ring_radii(disc, plan.skin_depth, sizing, mesher.mean_edge());
  NodeLoop outline = mesher.ring(radii.front(), plan.south, plan.north);
  // On the axis: nodes from the north pole down, for the border.
  std::vector<int> north{outline.back()}, south{outline.front()};
  NodeLoop outer = outline;
  const auto descend = [&](double radius, RegionId region) {
    const NodeLoop inner = mesher.ring(radius);
    mesher.join(outer, inner, region);
    outer = inner;
    north.push_back(inner.back());
    south.push_back(inner.front());
  };
  for (std::size_t k = 1; k < radii.size(); ++k) descend(radii[k], id);
  // There is almost no field inside a bore: rings as wide as their edges, down to a fan.
  const RegionId inside = disc.bore > 0 ? 0 : id;
  if (disc.bore > 0 && !mesher.whole())
    for (const double share : {0.75, 0.55, 0.35}) descend(share * disc.bore, inside);
  north.push_back(mesher.fan(outer, inside));
  if (!mesher.whole()) {
    std::vector<int> down = north;
    down.insert(down.end(), south.rbegin(), south.rend());
    for (std::size_t k = 0; k + 1 < down.size(); ++k)
      border.push_back({down[k], down[k + 1], -1, Side::axis});
  }
  return outline;
}

}  // namespace cw
