#include "postproc/picture/flux_lines.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <complex>
#include <map>
#include <optional>
#include <utility>

#include "solver/fem/potential.hpp"

namespace cw {

namespace {

struct Valued {
  Point at;
  double flux;  ///< r A at the chosen instant
};
using Corners = std::array<Valued, 3>;
using FluxSegment = std::array<Point, 2>;

std::array<double, 6> shape(double x, double y) {
  const double w = 1.0 - x - y;
  return {w * (2 * w - 1), x * (2 * x - 1), y * (2 * y - 1), 4 * w * x, 4 * x * y, 4 * w * y};
}

bool apart(const std::vector<Point>& nodes, const Window& w) {
  const auto all = [&](auto test) { return std::all_of(nodes.begin(), nodes.end(), test); };
  return all([&](Point p) { return p.r > w.radius; }) ||
         all([&](Point p) { return p.z > w.top; }) || all([&](Point p) { return p.z < w.bottom; });
}

/// Calls visit(corners) for the straight pieces of triangle t.
template <class Visit>
void each_piece(const Mesh& mesh, const FieldSolution& field, std::size_t t,
                const FluxLineOptions& options, Visit visit) {
  const auto& n = mesh.triangles[t];
  const auto node = [&](std::size_t k) { return mesh.nodes[static_cast<std::size_t>(n[k])]; };
  const double longest = std::max(
      {distance(node(0), node(1)), distance(node(1), node(2)), distance(node(2), node(0))});
  const int pieces = std::clamp(static_cast<int>(std::ceil(longest / options.detail)), 1, 40);
  const std::complex<double> turn = std::polar(1.0, -options.phase);
  const Eigen::Vector<double, 6> weight = node_weights(mesh, t);
  const auto at = [&](int i, int j) {
    const auto s = shape(static_cast<double>(i) / pieces, static_cast<double>(j) / pieces);
    Valued v{};
    for (std::size_t k = 0; k < 6; ++k) v.at = v.at + s[k] * node(k);
    const double here = potential_weight(mesh, v.at).value;
    double potential = 0.0;
    for (std::size_t k = 0; k < 6; ++k)
      potential += s[k] * weight[static_cast<Eigen::Index>(k)] / here *
                   (field.potential[n[k]] * turn).real();
    v.flux = v.at.r * potential;
    return v;
  };
  for (int j = 0; j < pieces; ++j) {
    for (int i = 0; i + j < pieces; ++i) {
      visit(Corners{at(i, j), at(i + 1, j), at(i, j + 1)});
      if (i + j + 1 < pieces) visit(Corners{at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  }
}

std::optional<FluxSegment> cut(const Corners& c, double level) {
  FluxSegment ends;
  std::size_t found = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    const Valued &a = c[k], &b = c[(k + 1) % 3];
    if ((a.flux < level) == (b.flux < level)) continue;
    ends[found++] = a.at + (level - a.flux) / (b.flux - a.flux) * (b.at - a.at);
    if (found == 2) return ends;
  }
  return {};
}

/// The part of a segment inside the window (Liang and Barsky's method).
std::optional<FluxSegment> clipped(const FluxSegment& s, const Window& w) {
  double from = 0.0, to = 1.0;
  const Point d = s[1] - s[0];
  const auto side = [&](double slope, double room) {
    if (slope == 0.0) return room >= 0.0;
    const double t = room / slope;
    if (slope < 0.0) {
      from = std::max(from, t);
    } else {
      to = std::min(to, t);
    }
    return from < to;
  };
  if (!side(d.r, w.radius - s[0].r) || !side(d.z, w.top - s[0].z) || !side(-d.z, s[0].z - w.bottom))
    return {};
  return FluxSegment{s[0] + from * d, s[0] + to * d};
}

/// Joins segments end to end; ends closer than `grain` count as equal.
std::vector<std::vector<Point>> joined(const std::vector<FluxSegment>& segments, double grain) {
  using Key = std::pair<long, long>;
  const auto key = [&](Point p) { return Key{std::lround(p.r / grain), std::lround(p.z / grain)}; };
  std::multimap<Key, std::size_t> ends;
  for (std::size_t i = 0; i < segments.size(); ++i) {
    for (const Point p : segments[i]) ends.emplace(key(p), i);
  }
  std::vector<bool> used(segments.size(), false);
  const auto grow = [&](std::vector<Point>& line) {
    for (bool more = true; more;) {
      more = false;
      const auto [first, last] = ends.equal_range(key(line.back()));
      for (auto it = first; it != last && !more; ++it) {
        if (used[it->second]) continue;
        used[it->second] = more = true;
        const FluxSegment& s = segments[it->second];
        line.push_back(key(s[0]) == key(line.back()) ? s[1] : s[0]);
      }
    }
  };
  std::vector<std::vector<Point>> lines;
  for (std::size_t i = 0; i < segments.size(); ++i) {
    // A contour through a corner leaves a piece of zero length in a neighbour.
    if (used[i] || key(segments[i][0]) == key(segments[i][1])) continue;
    used[i] = true;
    std::vector<Point> line = {segments[i][1], segments[i][0]};
    grow(line);
    std::reverse(line.begin(), line.end());
    grow(line);
    lines.push_back(std::move(line));
  }
  return lines;
}

/// Drops points nearer than `detail` to the last one kept; keeps the ends.
std::vector<Point> thinned(const std::vector<Point>& line, double detail) {
  std::vector<Point> out = {line.front()};
  for (std::size_t i = 1; i + 1 < line.size(); ++i) {
    if (distance(out.back(), line[i]) >= detail) out.push_back(line[i]);
  }
  out.push_back(line.back());
  return out;
}

/// Calls visit(corners) for every piece that may lie in the window.
template <class Visit>
void each_piece_of(const Mesh& mesh, const FieldSolution& field, const Window& window,
                   const FluxLineOptions& options, Visit visit) {
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    std::vector<Point> nodes;
    for (const int n : mesh.triangles[t]) nodes.push_back(mesh.nodes[static_cast<std::size_t>(n)]);
    if (!apart(nodes, window)) each_piece(mesh, field, t, options, visit);
  }
}

}  // namespace

std::vector<std::vector<Point>> flux_lines(const Mesh& mesh, const FieldSolution& field,
                                           const Window& window, const FluxLineOptions& options) {
  assert(options.count > 0 && options.detail > 0.0);
  double low = 0.0, high = 0.0;
  each_piece_of(mesh, field, window, options, [&](const Corners& c) {
    for (const Valued& corner : c) {
      low = std::min(low, corner.flux);
      high = std::max(high, corner.flux);
    }
  });
  const double interval = (high - low) / options.count;
  std::vector<std::vector<Point>> lines;
  if (interval <= 0.0) return lines;
  std::map<long, std::vector<FluxSegment>> by_level;
  each_piece_of(mesh, field, window, options, [&](const Corners& c) {
    const auto [least, most] = std::minmax({c[0].flux, c[1].flux, c[2].flux});
    // Levels at odd halves of the interval: none at zero, which is the axis.
    for (long k = std::lround(std::ceil(least / interval - 0.5));
         (static_cast<double>(k) + 0.5) * interval <= most; ++k) {
      const auto segment = cut(c, (static_cast<double>(k) + 0.5) * interval);
      const auto kept = segment ? clipped(*segment, window) : std::nullopt;
      if (kept) by_level[k].push_back(*kept);
    }
  });
  for (const auto& [level, segments] : by_level) {
    for (const auto& line : joined(segments, 1e-3 * options.detail))
      lines.push_back(thinned(line, 0.5 * options.detail));
  }
  return lines;
}

}  // namespace cw
