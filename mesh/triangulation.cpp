#include "mesh/triangulation.hpp"

#include <cassert>
#include <cmath>
#include <utility>

namespace cw {

namespace {

double twice_area(Point a, Point b, Point c) {
  return (b.r - a.r) * (c.z - a.z) - (c.r - a.r) * (b.z - a.z);
}

Point middle_of(Point a, Point b, const Circle* circle) {
  const Point chord = 0.5 * (a + b);
  if (circle == nullptr) return chord;
  const Point out = chord - circle->centre;
  return circle->centre + (circle->radius / std::hypot(out.r, out.z)) * out;
}

}  // namespace

RegionId Mesh::find_region(std::string_view name) const {
  for (std::size_t i = 0; i < region_name.size(); ++i)
    if (region_name[i] == name) return static_cast<RegionId>(i);
  return -1;
}

int Triangulation::add_node(Point p) {
  nodes.push_back(p);
  return static_cast<int>(nodes.size()) - 1;
}

void Triangulation::add_triangle(int a, int b, int c, RegionId id) {
  if (twice_area(nodes[a], nodes[b], nodes[c]) < 0) std::swap(b, c);
  triangles.push_back({a, b, c});
  region.push_back(id);
}

std::pair<int, int> Triangulation::add_quad(int a, int b, int c, int d, RegionId id) {
  if (distance(nodes[a], nodes[c]) <= distance(nodes[b], nodes[d])) {
    add_triangle(a, b, c, id);
    add_triangle(a, c, d, id);
    return {a, c};
  }
  add_triangle(a, b, d, id);
  add_triangle(b, c, d, id);
  return {b, d};
}

Mesh to_second_order(const Triangulation& flat, std::vector<BorderEdge> border) {
  Mesh mesh;
  mesh.nodes = flat.nodes;
  mesh.vertices = flat.nodes.size();
  mesh.region = flat.region;
  mesh.triangles.reserve(flat.triangles.size());
  mesh.nodes.reserve(4 * flat.nodes.size());
  std::unordered_map<std::uint64_t, int> middles;
  middles.reserve(3 * flat.nodes.size());
  const auto middle = [&](int a, int b) {
    const auto [it, fresh] =
        middles.try_emplace(edge_key(a, b), static_cast<int>(mesh.nodes.size()));
    if (fresh) {
      const auto arc = flat.arcs.find(edge_key(a, b));
      mesh.nodes.push_back(
          middle_of(flat.nodes[a], flat.nodes[b], arc == flat.arcs.end() ? nullptr : &arc->second));
    }
    return it->second;
  };
  for (const auto& [a, b, c] : flat.triangles)
    mesh.triangles.push_back({a, b, c, middle(a, b), middle(b, c), middle(c, a)});
  for (BorderEdge& edge : border) {
    const auto it = middles.find(edge_key(edge.from, edge.to));
    assert(it != middles.end());
    edge.middle = it->second;
  }
  mesh.border = std::move(border);
  return mesh;
}

}  // namespace cw
