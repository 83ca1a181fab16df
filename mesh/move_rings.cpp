#include "mesh/move_rings.hpp"

#include <algorithm>
#include <cmath>

#include "mesh/cores.hpp"
#include "mesh/generate.hpp"

namespace cw {

namespace {

double square(Point p) {
  return p.r * p.r + p.z * p.z;
}

bool same(double a, double b) {
  return std::abs(a - b) <= 1e-12 * std::max(std::abs(a), std::abs(b));
}

bool same_outline(const Polygon& a, const Polygon& b) {
  return a.outline == b.outline && a.holes == b.holes;
}

/// Layers may be finer than the new skin depth requires, but far thinner ones would not extend deep
/// enough.
bool layers_serve(const SectionRegion& before, const SectionRegion& now) {
  if (std::isinf(before.skin_depth) || std::isinf(now.skin_depth))
    return before.skin_depth == now.skin_depth;
  const double ratio = now.skin_depth / before.skin_depth;
  return ratio > 0.98 && ratio < 2.2;
}

/// Displacement of each region; nothing if anything else has changed.
std::optional<std::vector<Point>> moves(const Section& before, const Section& now) {
  if (before.regions.size() != now.regions.size()) return std::nullopt;
  if (!std::holds_alternative<OpenSpace>(now.domain) ||
      !std::holds_alternative<OpenSpace>(before.domain))
    return std::nullopt;
  std::vector<Point> all{{}};  // air
  for (std::size_t i = 0; i < now.regions.size(); ++i) {
    const SectionRegion &a = before.regions[i], &b = now.regions[i];
    if (a.name != b.name || a.shape.index() != b.shape.index() || !layers_serve(a, b))
      return std::nullopt;
    if (const auto* disc = std::get_if<Disc>(&b.shape)) {
      const auto& old = std::get<Disc>(a.shape);
      if (!same(disc->radius, old.radius) || !same(disc->bore, old.bore)) return std::nullopt;
      all.push_back(disc->centre - old.centre);
    } else {
      if (!same_outline(std::get<Polygon>(a.shape), std::get<Polygon>(b.shape)))
        return std::nullopt;
      all.push_back({});
    }
  }
  return all;
}

/// Gaps between discs may change only as long as the edges made for the old ones are suitable.
bool gaps_serve(const Section& before, const Section& now) {
  const auto gap = [](const SectionRegion& a, const SectionRegion& b) {
    const auto *p = std::get_if<Disc>(&a.shape), *q = std::get_if<Disc>(&b.shape);
    return p == nullptr || q == nullptr ? 0.0
                                        : distance(p->centre, q->centre) - p->radius - q->radius;
  };
  for (std::size_t i = 0; i + 1 < now.regions.size(); ++i) {
    const double a = gap(before.regions[i], before.regions[i + 1]),
                 b = gap(now.regions[i], now.regions[i + 1]);
    if (b < 0.8 * a || b > 1.4 * a) return false;
  }
  return true;
}

/// The map from the old open circle to the new one.
class CircleMove {
 public:
  CircleMove(const Mesh& mesh, const Section& now)
      : from_(mesh.centre),
        to_{0.0, enclosing(now).centre_z},
        scale_(enclosing(now).radius / mesh.open_radius) {}

  [[nodiscard]] Point operator()(Point p) const { return to_ + scale_ * (p - from_); }
  [[nodiscard]] double scale() const { return scale_; }
  [[nodiscard]] Point centre() const { return to_; }

 private:
  Point from_, to_;
  double scale_;
};

/// A vertex across an edge, and the stiffness of the edge.
struct Neighbour {
  int node;
  double weight;
};

/// The shorter an edge, the stiffer: small triangles, as at a corner of the workpiece, move
/// together, and large ones deform.
std::vector<std::vector<Neighbour>> neighbours(const Mesh& mesh) {
  std::vector<std::vector<Neighbour>> of(mesh.vertices);
  const auto join = [&](int a, int b) {
    of[a].push_back({b, 1 / square(mesh.nodes[a] - mesh.nodes[b])});
  };
  for (const auto& t : mesh.triangles)
    for (int k = 0; k < 3; ++k) {
      join(t[k], t[(k + 1) % 3]);
      join(t[k], t[(k + 2) % 3]);
    }
  for (auto& around : of) {
    double sum = 0;
    for (const Neighbour& n : around) sum += n.weight;
    for (Neighbour& n : around) n.weight /= sum;
  }
  return of;
}

/// Displacement of each vertex: given in bodies and on the open circle, free along the axis;
/// elsewhere the weighted mean of its neighbours' (successive over-relaxation).
std::vector<Point> displacements(const Mesh& mesh, const std::vector<Point>& region_moves,
                                 const CircleMove& circle) {
  std::vector<char> fixed(mesh.vertices, 0);
  std::vector<Point> u(mesh.vertices);
  for (const BorderEdge& e : mesh.border)
    if (e.side == Side::open)
      for (const int node : {e.from, e.to}) {
        fixed[node] = 1;
        u[node] = circle(mesh.nodes[node]) - mesh.nodes[node];
      }
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    // The bore of a tube is air; its nodes move with the ring around it.
    if (mesh.region[t] == 0) continue;
    for (int k = 0; k < 3; ++k) {
      const int node = mesh.triangles[t][k];
      fixed[node] = 1;
      u[node] = region_moves[mesh.region[t]];
    }
  }
  const auto around = neighbours(mesh);
  constexpr double over = 1.7;
  constexpr int sweeps = 60;
  for (int sweep = 0; sweep < sweeps; ++sweep)
    for (std::size_t i = 0; i < mesh.vertices; ++i) {
      if (fixed[i] != 0) continue;
      Point mean;
      for (const Neighbour& n : around[i]) mean = mean + n.weight * u[n.node];
      u[i] = u[i] + over * (mean - u[i]);
      if (mesh.nodes[i].r == 0) u[i].r = 0;
    }
  return u;
}

double area(const Mesh& mesh, const std::array<int, 6>& t) {
  const Point a = mesh.nodes[t[0]], b = mesh.nodes[t[1]] - a, c = mesh.nodes[t[2]] - a;
  return 0.5 * (b.r * c.z - b.z * c.r);
}

/// 1 for an equilateral triangle, near 0 for a flat one.
double roundness(const Mesh& mesh, const std::array<int, 6>& t) {
  double squares = 0;
  for (int k = 0; k < 3; ++k) squares += square(mesh.nodes[t[k]] - mesh.nodes[t[(k + 1) % 3]]);
  return 4 * std::sqrt(3.0) * area(mesh, t) / squares;
}

/// Triangles may stretch and shrink as long as the error they cause stays permissible, but not
/// become flat.
bool triangles_serve(const Mesh& before, const Mesh& now) {
  constexpr double smallest = 0.25, largest = 4.0, round_enough = 0.25, of_before = 0.7;
  for (const auto& t : now.triangles) {
    const double ratio = area(now, t) / area(before, t);
    if (!(ratio > smallest && ratio < largest)) return false;
    const double wanted = std::min(round_enough, of_before * roundness(before, t));
    if (roundness(now, t) < wanted) return false;
  }
  return true;
}

/// The largest power of `ratio` that does not exceed the value.
double step_below(double value, double ratio) {
  constexpr double slack = 1e-9;
  return std::pow(ratio, std::floor(std::log(value) / std::log(ratio) + slack));
}

/// Moves successive discs along the lines between them so that their gaps are whole steps.
void even_out(std::vector<SectionRegion>& regions, std::size_t first, std::size_t count) {
  // From 0.81 to 1.38 times the gap of the base: the range that gaps_serve() permits.
  constexpr double step = 1.7, within = 1.2346;
  std::vector<Point> moved;
  Point shift;
  for (std::size_t k = 0; k < count; ++k) {
    const Disc& disc = std::get<Disc>(regions[first + k].shape);
    if (k == 0) {
      moved.push_back(disc.centre);
      continue;
    }
    const Disc& last = std::get<Disc>(regions[first + k - 1].shape);
    const double length = distance(disc.centre, last.centre);
    const double touching = disc.radius + last.radius;
    if (length <= touching) return;
    const double gap = within * step_below(length - touching, step);
    moved.push_back(moved.back() + ((touching + gap) / length) * (disc.centre - last.centre));
    shift = shift + (disc.centre - moved.back());
  }
  for (std::size_t k = 0; k < count; ++k)
    std::get<Disc>(regions[first + k].shape).centre =
        moved[k] + (1.0 / static_cast<double>(count)) * shift;
}

}  // namespace

Section shared_base(const Section& section) {
  constexpr double skin_step = 1.5;
  Section base = section;
  std::vector<SectionRegion>& regions = base.regions;
  const auto is_disc = [&](std::size_t i) {
    return i < regions.size() && std::holds_alternative<Disc>(regions[i].shape);
  };
  std::size_t in_row = 0;
  for (std::size_t i = 0; i < regions.size(); ++i) {
    if (std::isfinite(regions[i].skin_depth))
      regions[i].skin_depth = step_below(regions[i].skin_depth, skin_step);
    in_row = is_disc(i) ? in_row + 1 : 0;
    if (in_row > 0 && !is_disc(i + 1)) even_out(regions, i + 1 - in_row, in_row);
  }
  return base;
}

std::optional<Mesh> move_rings(const Mesh& mesh, const Section& before, const Section& now) {
  const auto region_moves = moves(before, now);
  if (!region_moves || !gaps_serve(before, now)) return std::nullopt;
  const CircleMove circle(mesh, now);
  const auto u = displacements(mesh, *region_moves, circle);
  Mesh moved = mesh;
  moved.cores = cores_of(now);
  for (std::size_t i = 0; i < mesh.vertices; ++i) moved.nodes[i] = mesh.nodes[i] + u[i];
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const auto& n = mesh.triangles[t];
    for (int k = 0; k < 3; ++k)
      moved.nodes[n[3 + k]] = mesh.nodes[n[3 + k]] + 0.5 * (u[n[k]] + u[n[(k + 1) % 3]]);
  }
  for (const BorderEdge& e : mesh.border)
    if (e.side == Side::open) moved.nodes[e.middle] = circle(mesh.nodes[e.middle]);
  moved.centre = circle.centre();
  moved.open_radius = circle.scale() * mesh.open_radius;
  if (!triangles_serve(mesh, moved)) return std::nullopt;
  return moved;
}

bool serves_as_it_is(const Section& before, const Section& now) {
  const auto region_moves = moves(before, now);
  return region_moves &&
         std::ranges::all_of(*region_moves, [](Point move) { return move == Point{}; });
}

}  // namespace cw
