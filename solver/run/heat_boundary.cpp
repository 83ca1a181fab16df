#include "solver/run/heat_boundary.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/heater/rings.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw {

namespace {

/// Emissivity of a substance whose material lists none.
constexpr double plain_emissivity = 0.8;  // oxidised or mineral; common practice, no source

/// A wall or face of one body: some of its edges, and their extent.
struct Wall {
  std::size_t body = 0;
  std::vector<int> edges;
  double inner = 1e300, outer = 0.0;  ///< radii [m]
  double low = 1e300, high = -1e300;  ///< [m]
};

struct Faces {
  std::vector<Wall> outward, inward, up, down;  ///< one of each per body, possibly without edges
};

void add(const ThermalMesh& mesh, int edge, Wall& wall) {
  wall.edges.push_back(edge);
  for (const Point& p : mesh.surface[edge].at) {
    wall.inner = std::min(wall.inner, p.r);
    wall.outer = std::max(wall.outer, p.r);
    wall.low = std::min(wall.low, p.z);
    wall.high = std::max(wall.high, p.z);
  }
}

std::string name_of(const Mesh& mesh, const ThermalMesh& bodies, std::size_t body) {
  return mesh.region_name[bodies.body[body].region];
}

/// The coil as a wall of turns and gaps round the bodies, from the middle of the gap beyond one end
/// to that beyond the other.
struct CoilWall {
  double inner, low, high;  ///< [m]
  Temperature at;
  OpenWall wall;
};

CoilWall coil_wall(const Coil& coil) {
  CoilWall found{1e300, 1e300, -1e300, coil_temperature(coil), {}};
  const double radial = coil.conductor.radial_size(), axial = coil.conductor.axial_size();
  const std::vector<RingPlace> places = ring_places(coil);
  double metal = 0.0;
  for (const RingPlace& p : places) {
    found.inner = std::min(found.inner, p.r - radial / 2);
    found.low = std::min(found.low, p.z - axial / 2);
    found.high = std::max(found.high, p.z + axial / 2);
    metal += p.weight * axial;
  }
  const double listed = coil.conductor.material.emissivity.value;
  BarRow row;
  row.size = axial;
  row.depth = radial;
  row.round = coil.conductor.is_round();
  row.emissivity = listed > 0.0 ? listed : plain_emissivity;
  if (places.size() > 1)
    row.gap =
        std::max(0.0, found.high - found.low - metal) / static_cast<double>(places.size() - 1);
  found.low -= row.gap / 2;
  found.high += row.gap / 2;
  found.wall = wall_of(row);
  return found;
}

class BoundaryBuilder {
 public:
  BoundaryBuilder(const Heater& subject, const Mesh& mesh, const ThermalMesh& bodies,
                  const std::vector<double>& emissivity)
      : heat_(*subject.heat),
        mesh_(mesh),
        bodies_(bodies),
        emissivity_(emissivity),
        coil_(coil_wall(subject.coil)) {
    const std::size_t n = bodies.body.size();
    for (auto* walls : {&faces_.outward, &faces_.inward, &faces_.up, &faces_.down}) {
      walls->resize(n);
      for (std::size_t b = 0; b < n; ++b) (*walls)[b].body = b;
    }
    sort_edges(subject);
  }

  ThermalBoundary build() {
    for (const Wall& wall : faces_.outward)
      if (!wall.edges.empty()) add_outward(wall);
    for (const Wall& wall : faces_.inward)
      if (!wall.edges.empty() && !faced_[wall.body]) add_cavity(wall);
    for (const auto* ends : {&faces_.up, &faces_.down})
      for (const Wall& end : *ends) add_end(end, ends == &faces_.up);
    return std::move(boundary_);
  }

 private:
  void sort_edges(const Heater& subject) {
    faced_.assign(bodies_.body.size(), 0);
    in_cavity_.assign(bodies_.surface.size(), 0);
    std::vector<std::optional<Temperature>> fixed(mesh_.region_name.size());
    for (const Body& body : subject.bodies) fixed[mesh_.find_region(body.name)] = body.temperature;
    std::vector<std::size_t> body_of(mesh_.region_name.size(), 0);
    for (std::size_t b = 0; b < bodies_.body.size(); ++b) body_of[bodies_.body[b].region] = b;
    for (std::size_t e = 0; e < bodies_.surface.size(); ++e) {
      const SurfaceEdge& edge = bodies_.surface[e];
      const int index = static_cast<int>(e);
      if (edge.beyond > 0 && fixed[edge.beyond]) {
        boundary_.holds.push_back(
            {"into " + mesh_.region_name[edge.beyond], {index}, *fixed[edge.beyond]});
        continue;
      }
      const std::size_t b = body_of[edge.region];
      if (std::abs(edge.normal.r) >= std::abs(edge.normal.z))
        add(bodies_, index, edge.normal.r > 0 ? faces_.outward[b] : faces_.inward[b]);
      else
        add(bodies_, index, edge.normal.z > 0 ? faces_.up[b] : faces_.down[b]);
    }
  }

  /// The nearest bore all round a wall that overlaps it in height; null if there is none.
  const Wall* faced_by(const Wall& wall) const {
    const Wall* nearest = nullptr;
    for (const Wall& other : faces_.inward) {
      if (other.edges.empty() || other.body == wall.body || other.inner <= wall.outer) continue;
      if (other.low >= wall.high || other.high <= wall.low) continue;
      if (nearest == nullptr || other.inner < nearest->inner) nearest = &other;
    }
    return nearest;
  }

  NaturalConvection air(Posture posture, double length, double diameter) const {
    return {posture, length, diameter, heat_.surroundings};
  }

  void add_outward(const Wall& wall) {
    const Wall* other = faced_by(wall);
    std::vector<int> open = wall.edges;
    if (other != nullptr) {
      // Radiation extends a little beyond the heights at which the walls face each other.
      const double reach = 3 * (other->inner - wall.outer);
      const auto within = [&](int e, double slack) {
        const double z = bodies_.surface[e].at[2].z;
        return z > other->low - slack && z < other->high + slack;
      };
      Gap gap;
      for (const int e : wall.edges)
        if (within(e, reach)) gap.inner.push_back(e);
      gap.outer = other->edges;
      const std::string name = name_of(mesh_, bodies_, other->body);
      gap.inner_emissivity = emissivity_[wall.body];
      gap.outer_emissivity = emissivity_[other->body];
      gap.radiation = "radiation to " + name;
      gap.conduction = "air to " + name;
      gap.surroundings = heat_.surroundings;
      faced_[other->body] = 1;
      std::vector<int> far;
      std::erase_if(open, [&](int e) { return within(e, 0.0); });
      for (const int e : open)
        if (!within(e, reach)) far.push_back(e);
      boundary_.gaps.push_back(std::move(gap));
      if (!far.empty()) add_radiation(far, wall);
    } else {
      add_radiation(wall.edges, wall);
    }
    if (open.empty()) return;
    const bool upright = heat_.axis == AxisStands::vertical;
    boundary_.exchanges.push_back(
        {"convection", open,
         upright ? air(Posture::vertical_cylinder, wall.high - wall.low, 2 * wall.outer)
                 : air(Posture::horizontal_cylinder, 2 * wall.outer, 0.0)});
  }

  /// Radiation to the coil where the coil surrounds the wall, and past it to the surroundings.
  void add_radiation(const std::vector<int>& edges, const Wall& wall) {
    if (coil_.inner <= wall.outer) {
      boundary_.exchanges.push_back(
          {"radiation to surroundings", edges, Grey{emissivity_[wall.body], heat_.surroundings}});
      return;
    }
    GreyPastCylinder law;
    law.emissivity = emissivity_[wall.body];
    law.radius = coil_.inner;
    law.low = coil_.low;
    law.high = coil_.high;
    law.wall = coil_.wall;
    law.cylinder = coil_.at;
    law.own_low = wall.low;
    law.own_high = wall.high;
    law.surroundings = heat_.surroundings;
    boundary_.exchanges.push_back({"radiation to coil", edges, law});
  }

  /// A bore, with the faces of other bodies that close it or are inside it.
  void add_cavity(const Wall& wall) {
    std::vector<int> edges = wall.edges;
    bool bottom = false, top = false;
    for (auto* ends : {&faces_.up, &faces_.down})
      for (const Wall& end : *ends)
        for (const int e : end.edges) {
          const Point& at = bodies_.surface[e].at[2];
          if (at.r >= wall.outer || at.z < wall.low - 1e-9 || at.z > wall.high + 1e-9) continue;
          if (end.edges.empty() || in_cavity_[e]) continue;
          (ends == &faces_.up ? bottom : top) = true;
          edges.push_back(e);
          in_cavity_[e] = 1;
        }
    const int open = (bottom ? 0 : 1) + (top ? 0 : 1);
    const double area = surface_area(bodies_, edges);
    const double opening = std::numbers::pi * wall.inner * wall.inner * open;
    if (open == 0 || !(area > 0)) return;
    const double share = std::min(1.0, opening / area);
    const double wall_emissivity = emissivity_[wall.body];
    const double grey = 1 / (1 + share * (1 / wall_emissivity - 1));
    boundary_.exchanges.push_back(
        {"radiation to surroundings", edges, Grey{share * grey, heat_.surroundings}});
  }

  void add_end(const Wall& end, bool up) {
    std::vector<int> edges = end.edges;
    std::erase_if(edges, [&](int e) { return in_cavity_[e] != 0; });
    if (edges.empty()) return;
    const bool upright = heat_.axis == AxisStands::vertical;
    // Area over perimeter of a disc or ring. An upright disc counts as a plate of the same height.
    const NaturalConvection flow =
        upright ? air(up ? Posture::facing_up : Posture::facing_down,
                      0.5 * (end.outer - std::min(end.inner, end.outer)), 0.0)
                : air(Posture::vertical_cylinder, 2 * end.outer, 0.0);
    boundary_.exchanges.push_back({"ends", edges, flow});
    boundary_.exchanges.push_back({"ends", edges, Grey{emissivity_[end.body], heat_.surroundings}});
  }

  const Heat& heat_;
  const Mesh& mesh_;
  const ThermalMesh& bodies_;
  const std::vector<double>& emissivity_;
  CoilWall coil_;
  Faces faces_;
  std::vector<char> faced_;      ///< by body: its bore faces another body
  std::vector<char> in_cavity_;  ///< by surface edge
  ThermalBoundary boundary_;
};

}  // namespace

HeatedBodies heated_bodies(const Heater& subject, const Mesh& mesh) {
  HeatedBodies all;
  const auto add = [&](const std::string& name, const Material& material,
                       std::optional<double> emissivity) {
    all.body.push_back({mesh.find_region(name), material});
    const double listed = material.emissivity.value;
    all.emissivity.push_back(emissivity.value_or(listed > 0.0 ? listed : plain_emissivity));
  };
  add("workpiece", subject.workpiece->material, subject.heat->emissivity);
  for (const Body& body : subject.bodies)
    if (!body.temperature) add(body.name, body.material, std::nullopt);
  for (const Body& body : subject.bodies) {
    if (!body.contact || body.temperature) continue;
    const RegionId own = mesh.find_region(body.name);
    for (const ThermalBody& other : all.body)
      if (other.region != own) all.contacts.push_back({own, other.region, *body.contact});
  }
  return all;
}

ThermalBoundary heat_boundary(const Heater& subject, const Mesh& mesh, const ThermalMesh& bodies,
                              const std::vector<double>& emissivity) {
  return BoundaryBuilder(subject, mesh, bodies, emissivity).build();
}

}  // namespace cw
