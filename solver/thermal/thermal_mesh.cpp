#include "solver/thermal/thermal_mesh.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <stdexcept>

#include "mesh/triangulation.hpp"

namespace cw {
namespace {

/// Tells which bodies share unknowns where they touch.
class Bonds {
 public:
  explicit Bonds(const std::vector<Contact>& contacts) {
    for (const Contact& c : contacts) conductance_[std::minmax(c.one, c.other)] = c.conductance;
  }
  [[nodiscard]] bool bonded(RegionId a, RegionId b) const {
    return !conductance_.contains(std::minmax(a, b));
  }
  [[nodiscard]] double conductance(RegionId a, RegionId b) const {
    return conductance_.at(std::minmax(a, b));
  }

 private:
  std::map<std::pair<RegionId, RegionId>, double> conductance_;
};

void check(const Mesh& mesh, const std::vector<ThermalBody>& bodies,
           const std::vector<Contact>& contacts) {
  std::set<RegionId> known;
  const std::set<RegionId> meshed(mesh.region.begin(), mesh.region.end());
  for (const ThermalBody& body : bodies) {
    if (!meshed.contains(body.region))
      throw std::invalid_argument(
          fmt::format("found a body of region {} without triangles; allowed: regions of the mesh",
                      body.region));
    if (!known.insert(body.region).second)
      throw std::invalid_argument(
          fmt::format("found region {} twice among the bodies; allowed: once", body.region));
  }
  for (const Contact& c : contacts) {
    if (c.one == c.other || !known.contains(c.one) || !known.contains(c.other))
      throw std::invalid_argument(fmt::format(
          "found a contact of regions {} and {}; allowed: two different bodies", c.one, c.other));
    if (!(c.conductance >= 0.0) || !std::isfinite(c.conductance))
      throw std::invalid_argument(
          fmt::format("found a contact conductance of {} W/(m2 K); allowed: 0 or more; leave the "
                      "contact out for bonded bodies",
                      c.conductance));
  }
}

using RegionsOfNode = std::vector<std::vector<RegionId>>;

RegionsOfNode regions_of_nodes(const Mesh& mesh, const std::map<RegionId, std::size_t>& body_of) {
  RegionsOfNode regions(mesh.nodes.size());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (!body_of.contains(mesh.region[t])) continue;
    for (const int node : mesh.triangles[t]) {
      auto& list = regions[node];
      if (std::find(list.begin(), list.end(), mesh.region[t]) == list.end())
        list.push_back(mesh.region[t]);
    }
  }
  return regions;
}

/// Gives each group of regions bonded at a node one unknown.
void number_node(ThermalMesh& out, int node, Point at, std::vector<RegionId> left,
                 const Bonds& bonds) {
  std::sort(left.begin(), left.end());
  while (!left.empty()) {
    std::vector<RegionId> group{left.front()};
    left.erase(left.begin());
    for (std::size_t g = 0; g < group.size(); ++g)
      std::erase_if(left, [&](RegionId r) {
        const bool joins = bonds.bonded(group[g], r);
        if (joins) group.push_back(r);
        return joins;
      });
    for (const RegionId r : group) out.unknown_of[{node, r}] = static_cast<int>(out.at.size());
    out.at.push_back(at);
  }
}

void add_elements(ThermalMesh& out, const Mesh& mesh,
                  const std::map<RegionId, std::size_t>& body_of) {
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto body = body_of.find(mesh.region[t]);
    if (body == body_of.end()) continue;
    ThermalMesh::Element e{{}, body->second, t, lumped_triangle(triangle_points(mesh, t))};
    for (int i = 0; i < 6; ++i)
      e.unknown[i] = out.unknown_of.at({mesh.triangles[t][i], mesh.region[t]});
    e.unknown[6] = static_cast<int>(out.at.size());
    out.at.push_back(e.shape.centre);
    out.elements.push_back(e);
  }
}

void share_volume(ThermalMesh& out) {
  std::vector<std::map<std::size_t, double>> by_body(out.at.size());
  for (const auto& e : out.elements)
    for (int i = 0; i < 7; ++i) by_body[e.unknown[i]][e.body] += e.shape.volume[i];
  out.volume = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(out.at.size()));
  for (std::size_t i = 0; i < by_body.size(); ++i) {
    for (const auto& [body, volume] : by_body[i]) out.volume[i] += volume;
    out.share_start.push_back(static_cast<int>(out.share_body.size()));
    for (const auto& [body, volume] : by_body[i]) {
      out.share_body.push_back(static_cast<int>(body));
      out.share_value.push_back(volume / out.volume[i]);
    }
  }
  out.share_start.push_back(static_cast<int>(out.share_body.size()));
}

/// An edge as seen from one triangle: corners in its own sense, the triangle to the left.
struct HalfEdge {
  std::array<int, 3> node;
  RegionId region;
};

void add_contact(ThermalMesh& out, const Mesh& mesh, const HalfEdge& a, const HalfEdge& b,
                 const Bonds& bonds) {
  ContactEdge contact{{}, {}, {}, bonds.conductance(a.region, b.region)};
  for (int i = 0; i < 3; ++i) {
    contact.one[i] = out.unknown_of.at({a.node[i], a.region});
    contact.other[i] = out.unknown_of.at({a.node[i], b.region});
    contact.at[i] = mesh.nodes[a.node[i]];
  }
  if (contact.conductance > 0.0) out.contacts.push_back(contact);
}

void add_surface(ThermalMesh& out, const Mesh& mesh, const HalfEdge& a, RegionId beyond) {
  SurfaceEdge edge{{}, {}, {}, a.region, beyond};
  for (int i = 0; i < 3; ++i) {
    edge.unknown[i] = out.unknown_of.at({a.node[i], a.region});
    edge.at[i] = mesh.nodes[a.node[i]];
  }
  const Point along = edge.at[1] - edge.at[0];
  const double length = std::hypot(along.r, along.z);
  if (edge.at[0].r < 1e-9 * length && edge.at[1].r < 1e-9 * length) return;
  edge.normal = {along.z / length, -along.r / length};
  out.surface.push_back(edge);
}

void add_edges(ThermalMesh& out, const Mesh& mesh, const std::map<RegionId, std::size_t>& body_of,
               const Bonds& bonds) {
  std::map<std::uint64_t, std::vector<HalfEdge>> halves;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto& n = mesh.triangles[t];
    for (int i = 0; i < 3; ++i)
      halves[edge_key(n[i], n[(i + 1) % 3])].push_back(
          {{n[i], n[(i + 1) % 3], n[3 + i]}, mesh.region[t]});
  }
  for (const auto& [key, sides] : halves) {
    std::vector<HalfEdge> inside;
    for (const HalfEdge& side : sides)
      if (body_of.contains(side.region)) inside.push_back(side);
    if (inside.size() == 2 && !bonds.bonded(inside[0].region, inside[1].region)) {
      add_contact(out, mesh, inside[0], inside[1], bonds);
    } else if (inside.size() == 1) {
      const HalfEdge& other =
          sides.front().region == inside[0].region ? sides.back() : sides.front();
      add_surface(out, mesh, inside[0], sides.size() == 1 ? -1 : other.region);
    }
  }
}

}  // namespace

ThermalMesh make_thermal_mesh(const Mesh& mesh, std::vector<ThermalBody> bodies,
                              const std::vector<Contact>& contacts) {
  check(mesh, bodies, contacts);
  const Bonds bonds(contacts);
  std::map<RegionId, std::size_t> body_of;
  ThermalMesh out;
  out.mesh_triangles = mesh.triangles.size();
  out.body = std::move(bodies);
  for (std::size_t b = 0; b < out.body.size(); ++b) {
    body_of[out.body[b].region] = b;
    out.law.emplace_back(out.body[b].material);
  }
  const RegionsOfNode regions = regions_of_nodes(mesh, body_of);
  for (std::size_t node = 0; node < mesh.nodes.size(); ++node)
    number_node(out, static_cast<int>(node), mesh.nodes[node], regions[node], bonds);
  add_elements(out, mesh, body_of);
  share_volume(out);
  add_edges(out, mesh, body_of, bonds);
  return out;
}

std::vector<int> surface_of(const ThermalMesh& mesh, RegionId region, Facing facing) {
  std::vector<int> edges;
  for (const int i : surface_of(mesh, region)) {
    const Point n = mesh.surface[i].normal;
    const bool sideways = std::abs(n.r) >= std::abs(n.z);
    const Facing looks = sideways ? (n.r > 0 ? Facing::outward : Facing::inward)
                                  : (n.z > 0 ? Facing::up : Facing::down);
    if (looks == facing) edges.push_back(i);
  }
  return edges;
}

std::vector<int> surface_of(const ThermalMesh& mesh, RegionId region) {
  std::vector<int> edges;
  for (std::size_t i = 0; i < mesh.surface.size(); ++i)
    if (mesh.surface[i].region == region) edges.push_back(static_cast<int>(i));
  return edges;
}

std::vector<WallPoint> surface_points(const ThermalMesh& mesh, const std::vector<int>& edges) {
  // Gauss-Legendre on (-1, 1), and the ends of the ranges that correspond to its weights.
  static const std::array<double, 3> place{-std::sqrt(.6), 0., std::sqrt(.6)};
  constexpr std::array<double, 3> weight{5. / 9, 8. / 9, 5. / 9};
  constexpr std::array<double, 4> end{-1., -4. / 9, 4. / 9, 1.};
  const auto shape = [](double s) {
    return std::array<double, 3>{.5 * s * (s - 1), .5 * s * (s + 1), 1 - s * s};
  };
  const auto point = [&shape](const SurfaceEdge& e, double s) {
    const auto n = shape(s);
    return n[0] * e.at[0] + n[1] * e.at[1] + n[2] * e.at[2];
  };
  std::vector<WallPoint> points;
  for (const int index : edges) {
    const SurfaceEdge& e = mesh.surface.at(index);
    for (int q = 0; q < 3; ++q) {
      const double s = place[q];
      const Point tangent = (s - .5) * e.at[0] + (s + .5) * e.at[1] - (2 * s) * e.at[2];
      const Point at = point(e, s);
      const auto [below, above] = std::minmax({point(e, end[q]).z, point(e, end[q + 1]).z});
      points.push_back({e.unknown, shape(s), at,
                        2 * std::numbers::pi * at.r * weight[q] * std::hypot(tangent.r, tangent.z),
                        below, above});
    }
  }
  return points;
}

double surface_area(const ThermalMesh& mesh, const std::vector<int>& edges) {
  double area = 0.0;
  for (const WallPoint& p : surface_points(mesh, edges)) area += p.area;
  return area;
}

}  // namespace cw
