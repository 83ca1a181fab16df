#include "mesh/generate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "mesh/cores.hpp"
#include "mesh/fill.hpp"
#include "mesh/quality.hpp"
#include "mesh/section_check.hpp"

namespace cw {

namespace {

double signed_area(const Triangulation& mesh, const NodeLoop& loop) {
  double area = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Point a = mesh.nodes[loop[i]], b = mesh.nodes[loop[(i + 1) % loop.size()]];
    area += 0.5 * (a.r * b.z - b.r * a.z);
  }
  return area;
}

bool inside(const Triangulation& mesh, const NodeLoop& loop, Point p) {
  bool in = false;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Point a = mesh.nodes[loop[i]], b = mesh.nodes[loop[(i + 1) % loop.size()]];
    if ((a.z > p.z) != (b.z > p.z) && p.r < a.r + (p.z - a.z) / (b.z - a.z) * (b.r - a.r)) in = !in;
  }
  return in;
}

/// Chains directed edges, each with its face on the left, into loops.
class EdgeChain {
 public:
  explicit EdgeChain(const Triangulation& mesh) : mesh_(mesh) {}

  void add(int from, int to) { next_[from].push_back(to); }

  std::vector<NodeLoop> loops() {
    std::vector<NodeLoop> result;
    std::vector<int> starts;
    for (const auto& [from, to] : next_) starts.push_back(from);
    std::sort(starts.begin(), starts.end());  // the same order on every run
    for (const int start : starts)
      while (!next_[start].empty()) result.push_back(walk(start));
    return result;
  }

 private:
  NodeLoop walk(int start) {
    NodeLoop loop;
    int previous = -1, here = start;
    do {
      loop.push_back(here);
      auto& choices = next_[here];
      if (choices.empty()) throw MeshError("regions do not close; this is a defect of the mesher");
      const auto pick = choices.size() == 1 || previous < 0 ? choices.begin()
                                                            : rightmost(previous, here, choices);
      previous = here;
      here = *pick;
      choices.erase(pick);
    } while (here != start);
    return loop;
  }

  /// If bodies touch at a corner, the same face continues along the first edge clockwise from the
  /// previous one.
  std::vector<int>::iterator rightmost(int previous, int here, std::vector<int>& choices) const {
    const auto clockwise = [&](int to) {
      const Point back = mesh_.nodes[previous] - mesh_.nodes[here],
                  out = mesh_.nodes[to] - mesh_.nodes[here];
      const double angle = std::atan2(back.z, back.r) - std::atan2(out.z, out.r);
      return angle <= 0 ? angle + 2 * std::numbers::pi : angle;
    };
    return std::min_element(choices.begin(), choices.end(),
                            [&](int a, int b) { return clockwise(a) < clockwise(b); });
  }

  const Triangulation& mesh_;
  std::unordered_map<int, std::vector<int>> next_;
};

/// Outer loops become faces; clockwise loops become holes of the smallest face that contains them.
std::vector<Face> faces_of(const Triangulation& mesh, std::vector<NodeLoop> loops,
                           RegionId region) {
  std::vector<Face> faces;
  std::vector<NodeLoop> holes;
  for (NodeLoop& loop : loops)
    if (signed_area(mesh, loop) > 0)
      faces.push_back({region, {std::move(loop)}});
    else
      holes.push_back(std::move(loop));
  std::sort(faces.begin(), faces.end(), [&](const Face& a, const Face& b) {
    return signed_area(mesh, a.loops[0]) < signed_area(mesh, b.loops[0]);
  });
  for (NodeLoop& hole : holes) {
    const Point p = 0.5 * (mesh.nodes[hole[0]] + mesh.nodes[hole[1]]);
    const auto holder = std::find_if(faces.begin(), faces.end(),
                                     [&](const Face& f) { return inside(mesh, f.loops[0], p); });
    if (holder == faces.end()) throw MeshError("a body reaches out of the meshed domain");
    holder->loops.push_back(std::move(hole));
  }
  return faces;
}

/// A polygon region taken as a plate: the length of its border, and the area over that, which is
/// half the thickness of a plate and half the radius of a rod.
struct Plate {
  double half_thickness, surface;  ///< [m]
};
Plate as_plate(const Arrangement& a, RegionId id) {
  double area = 0, surface = 0;
  for (const Loop& loop : a.loops[id])
    for (const Step& s : loop) {
      const Point p = a.corners[a.start(s)], q = a.corners[a.end(s)];
      area += 0.5 * (p.r * q.z - q.r * p.z);
      if (!a.curves[s.curve].cut()) surface += distance(p, q);
    }
  return {surface > 0 ? area / surface : 0.0, surface};
}

/// If a step or slot ends the layers before the field has decayed, and a thick core remains, the
/// core continues with triangles as thick as the next layer would have been: its edges become no
/// longer than that, unless this takes very many.
Section with_core_edges(Section section, const Arrangement& arrangement, const Sizing& sizing) {
  constexpr double dead = 4.0;  // skin depths
  constexpr double most_edges = 500;
  for (std::size_t i = 0; i < section.regions.size(); ++i) {
    SectionRegion& region = section.regions[i];
    const auto id = static_cast<RegionId>(i) + 1;
    if (std::holds_alternative<Disc>(region.shape) || !std::isfinite(region.skin_depth)) continue;
    const auto depths = layer_depths(sizing, region.skin_depth, room_for_layers(arrangement, id),
                                     region.buried_skin);
    const double reached = depths.back();
    const double next = depths.size() > 1 ? sizing.growth * (reached - depths[depths.size() - 2])
                                          : sizing.first_layer * region.skin_depth;
    const Plate plate = as_plate(arrangement, id);
    if (reached > dead * region.skin_depth || plate.half_thickness - reached < next) continue;
    region.largest_edge = std::min(
        region.largest_edge, std::max({1.5 * next, 0.75 * sizing.first_layer * region.skin_depth,
                                       plate.surface / most_edges}));
  }
  return section;
}

class Generator {
 public:
  Generator(const Section& section, const Sizing& sizing)
      : sizing_(sizing),
        open_(std::holds_alternative<OpenSpace>(section.domain) ? enclosing(section) : OpenSpace{}),
        arrangement_(arrange(section, open_)),
        section_(with_core_edges(section, arrangement_, sizing)),
        edge_(section_, arrangement_, open_, sizing) {}

  Mesh run(Fill how) {
    nodes_ = place_curve_nodes(arrangement_, edge_, open_, mesh_);
    for (std::size_t i = 0; i < section_.regions.size(); ++i)
      mesh_region(static_cast<RegionId>(i) + 1);
    add_air();
    fill_faces(faces_, how, mesh_);
    for (std::size_t i = 0; i < arrangement_.curves.size(); ++i) add_border(i);
    Mesh mesh = to_second_order(mesh_, std::move(border_));
    mesh.region_name.emplace_back("air");
    for (const auto& region : section_.regions) mesh.region_name.push_back(region.name);
    mesh.centre = {0, open_.centre_z};
    mesh.open_radius = open_.radius;
    mesh.cores = cores_of(section_);
    return mesh;
  }

 private:
  void mesh_region(RegionId id) {
    const SectionRegion& region = section_.regions[id - 1];
    if (const auto* disc = std::get_if<Disc>(&region.shape)) {
      DiscPlan plan{*disc, id, region.skin_depth};
      if (disc->centre.r == 0) {
        plan.south = pole(disc->centre.z - disc->radius);
        plan.north = pole(disc->centre.z + disc->radius);
      }
      disc_outlines_.push_back(mesh_disc(plan, edge_, sizing_, mesh_, border_));
      return;
    }
    const auto depths = layer_depths(sizing_, region.skin_depth, room_for_layers(arrangement_, id),
                                     region.buried_skin);
    auto core = lay_polygon({arrangement_, edge_, nodes_, mesh_}, id, depths);
    for (Face& face : faces_of(mesh_, std::move(core), id)) faces_.push_back(std::move(face));
  }

  [[nodiscard]] int pole(double z) const {
    for (std::size_t i = 0; i < arrangement_.corners.size(); ++i)
      if (distance(arrangement_.corners[i], {0, z}) < 1e-9 * std::abs(open_.radius) + 1e-15)
        return static_cast<int>(i);
    throw MeshError("a sphere reaches out of the meshed domain");
  }

  /// Air is the rest: to the left of the border, to the right of every body.
  void add_air() {
    EdgeChain chain(mesh_);
    for (std::size_t i = 0; i < arrangement_.curves.size(); ++i) {
      const Curve& c = arrangement_.curves[i];
      const auto& n = nodes_[i];
      for (std::size_t k = 0; k + 1 < n.size(); ++k) {
        if (c.left == 0) chain.add(n[k], n[k + 1]);
        if (c.right == 0) chain.add(n[k + 1], n[k]);
      }
    }
    for (const NodeLoop& outline : disc_outlines_) {
      const bool closed = mesh_.nodes[outline.front()].r > 0 || mesh_.nodes[outline.back()].r > 0;
      for (std::size_t k = 0; k + (closed ? 0 : 1) < outline.size(); ++k)
        chain.add(outline[(k + 1) % outline.size()], outline[k]);
    }
    for (Face& face : faces_of(mesh_, chain.loops(), 0)) faces_.push_back(std::move(face));
  }

  void add_border(std::size_t i) {
    const Curve& c = arrangement_.curves[i];
    if (!c.side) return;
    auto n = nodes_[i];
    if (c.left == Curve::outside) std::reverse(n.begin(), n.end());
    for (std::size_t k = 0; k + 1 < n.size(); ++k) border_.push_back({n[k], n[k + 1], -1, *c.side});
  }

  const Sizing sizing_;
  const OpenSpace open_;
  const Arrangement arrangement_;
  const Section section_;
  const EdgeLength edge_;
  Triangulation mesh_;
  CurveNodes nodes_;
  std::vector<NodeLoop> disc_outlines_;
  std::vector<Face> faces_;
  std::vector<BorderEdge> border_;
};

}  // namespace

OpenSpace enclosing(const Section& section) {
  const auto& wanted = std::get<OpenSpace>(section.domain);
  if (wanted.radius > 0) return wanted;
  double low = 1e300, high = -1e300, wide = 0;
  const auto hold = [&](Point p, double margin) {
    low = std::min(low, p.z - margin);
    high = std::max(high, p.z + margin);
    wide = std::max(wide, p.r + margin);
  };
  for (const auto& region : section.regions)
    if (const auto* disc = std::get_if<Disc>(&region.shape))
      hold(disc->centre, disc->radius);
    else
      for (const Point p : std::get<Polygon>(region.shape).outline) hold(p, 0);
  if (wide == 0) throw MeshError("the section has no region and no open radius is given");
  const double centre = 0.5 * (low + high);
  double reach = 0;
  for (const auto& region : section.regions)
    if (const auto* disc = std::get_if<Disc>(&region.shape))
      reach = std::max(reach, distance(disc->centre, {0, centre}) + disc->radius);
    else
      for (const Point p : std::get<Polygon>(region.shape).outline)
        reach = std::max(reach, distance(p, {0, centre}));
  // Fields of degree l fall by (reach/radius)^(l+1): with 1.5 only the first twenty degrees matter.
  return {centre, 1.5 * reach};
}

Mesh generate_mesh(const Section& section, const Sizing& sizing) {
  require_disjoint(section);
  // A triangulation sometimes fails or has a flat triangle, while another triangulation of the same
  // borders, or one with shorter edges, is sound.
  struct Way {
    Fill fill;
    double scale;
  };
  constexpr std::array<Way, 6> ways{{{{Fill::Order::delaunay, 1}, 1.0},
                                     {{Fill::Order::frontal, 1}, 1.0},
                                     {{Fill::Order::delaunay, 2}, 1.0},
                                     {{Fill::Order::delaunay, 1}, 0.8},
                                     {{Fill::Order::frontal, 1}, 0.65},
                                     {{Fill::Order::delaunay, 1}, 0.5}}};
  for (const Way& way : ways) {
    try {
      Mesh mesh =
          Generator(section, way.scale < 1.0 ? sizing.scaled(way.scale) : sizing).run(way.fill);
      require_quality(mesh);
      return mesh;
    } catch (const MeshError&) {
      if (&way == &ways.back()) throw;
    }
  }
  throw MeshError("no way to triangulate is known");
}

}  // namespace cw
