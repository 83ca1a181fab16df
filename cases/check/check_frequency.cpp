#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <fmt/format.h>

#include "cases/check/findings.hpp"
#include "cases/parts.hpp"
#include "cases/wording.hpp"
#include "mesh/edge_length.hpp"
#include "mesh/planar/outline.hpp"

namespace cw::cases {

namespace {

/// The frequency of the case, or the approximate resonance of the empty tank.
Frequency expected_frequency(const Case& subject) {
  if (const auto set = set_frequency(subject.drive)) return set->frequency;
  if (!subject.tank) return {};
  const double lc = rough_inductance(subject.coil) * subject.tank->capacitance;
  return {1.0 / (2.0 * std::numbers::pi * std::sqrt(lc))};
}

void check_ringing(Findings& findings, Frequency f) {
  const auto rule = ask(findings.subject.drive, [](const auto& d) { return d.frequency_rule; });
  if (!rule) return;
  const std::string ring =
      fmt::format("found {}, with which the empty coil would resonate near {}",
                  in_words(findings.subject.tank->capacitance, Dimension::capacitance),
                  in_words(f.hertz, Dimension::frequency));
  if (f.hertz < rule->low || f.hertz > rule->high) {
    findings.error("tank.capacitance", fmt::format("{}; allowed: {} to {}; is the unit right?",
                                                   ring, in_words(rule->low, Dimension::frequency),
                                                   in_words(rule->high, Dimension::frequency)));
  } else if (f.hertz < rule->usual_low || f.hertz > rule->usual_high) {
    findings.warn("tank.capacitance",
                  fmt::format("{}; {} usually run at {} to {}", ring, rule->of,
                              in_words(rule->usual_low, Dimension::frequency),
                              in_words(rule->usual_high, Dimension::frequency)));
  }
}

/// The object nearest to a point, as far as the mesh is concerned.
struct Neighbour {
  double edge = std::numeric_limits<double>::infinity();  ///< longest edge that it permits there
                                                          ///< [m]
  double clear = 0.0;                                     ///< distance [m]
  double edge_over_clear = 0.0;
  std::string name;
};

/// The part's contribution to the mesh, and what determines it.
struct Share {
  double edges = 0.0;  ///< along its surface
  Neighbour nearest;
  double longest = 0.0;  ///< side of the outline along it [m]
};

/// Everything that occupies space.
struct Scene {
  std::vector<PartView> parts;
  std::vector<RingPlace> turns;
  double half_conductor = 0.0;  ///< [m]
};

/// The part or turn that does not touch the point and permits the shortest edge there. Turns bend
/// the field within their distance. Along the slot between two bodies the field is almost constant,
/// and only the shape of the triangles in the slot limits the edge.
Neighbour nearest_to(Point point, std::size_t own, const Scene& scene) {
  Neighbour nearest;
  const auto keep = [&](double clear, double edge_over_clear, const std::string& name) {
    if (clear > touching && edge_over_clear * clear < nearest.edge)
      nearest = {edge_over_clear * clear, clear, edge_over_clear, name};
  };
  for (std::size_t i = 0; i < scene.parts.size(); ++i)
    if (i != own)
      keep(distance(point, scene.parts[i].outline.profile), longest_edge_over_gap,
           scene.parts[i].name);
  for (std::size_t k = 0; k < scene.turns.size(); ++k)
    keep(std::hypot(point.r - scene.turns[k].r, point.z - scene.turns[k].z) - scene.half_conductor,
         Sizing{}.clearance, fmt::format("turn {}", k + 1));
  return nearest;
}

/// Edges of the layered mesh along a part: as long as its neighbours permit, growing from every
/// corner as in Sizing.
Share share_of(std::size_t own, const Scene& scene, Frequency f) {
  Share share;
  const PartView& part = scene.parts[own];
  const double depth = skin_depth(part.material.conductivity(part.temperature),
                                  part.material.initial_permeability(part.temperature), f);
  for (const Segment& side : sides(part.outline.profile)) {
    if (side.a.r <= touching && side.b.r <= touching) continue;  // on the axis
    const double length = std::hypot(side.b.r - side.a.r, side.b.z - side.a.z);
    if (depth < length) share.edges += 2.0 / Sizing{}.corner_growth * std::log(length / depth);
    constexpr int pieces = 16;
    for (int i = 0; i < pieces; ++i) {
      const double t = (i + 0.5) / pieces;
      const Neighbour nearest = nearest_to(
          {side.a.r + t * (side.b.r - side.a.r), side.a.z + t * (side.b.z - side.a.z)}, own, scene);
      share.edges += length / pieces / std::min(nearest.edge, length / 2.0);
      if (nearest.edge >= share.nearest.edge) continue;
      share.nearest = nearest;
      share.longest = length;
    }
  }
  return share;
}

void check_mesh_size(Findings& findings, Frequency f) {
  constexpr double most = 2e6;  // unknowns, which take some 10 GB of memory (an estimate)
  constexpr double per_edge =
      40.0;  // four layers of second-order triangles, and the air around them
  const Coil& coil = findings.subject.coil;
  const Scene scene{parts_of(findings.subject), ring_places(coil),
                    coil.conductor.radial_size() / 2.0};
  const auto& parts = scene.parts;
  double total = per_edge * 20.0 * static_cast<double>(scene.turns.size());
  double largest = 0.0;
  std::size_t worst = 0;
  Share blame;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].outline.profile.size() < 3) continue;
    const Share share = share_of(i, scene, f);
    total += per_edge * share.edges;
    if (share.edges > largest) {
      largest = share.edges;
      worst = i;
      blame = share;
    }
  }
  if (total <= most || largest == 0.0) return;
  const double enough = blame.longest * per_edge / (blame.nearest.edge_over_clear * most / 4.0);
  findings.error(
      size_key(parts[worst]),
      fmt::format("found {} {} from {} along a side of {}: about {:.1f} million unknowns; "
                  "allowed: {:.0f} million; let them touch, or leave {} between them",
                  parts[worst].name, mm(blame.nearest.clear), blame.nearest.name, mm(blame.longest),
                  total / 1e6, most / 1e6, mm(enough)));
}

}  // namespace

void check_frequency(Findings& findings) {
  const Frequency f = expected_frequency(findings.subject);
  if (!(f.hertz > 0.0)) return;
  check_ringing(findings, f);
  if (findings.errors.empty()) check_mesh_size(findings, f);
}

}  // namespace cw::cases
