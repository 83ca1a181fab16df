#include "mesh/edge_length.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace cw {

namespace {

double distance_to_segment(Point p, Point a, Point b) {
  const Point d = b - a;
  const double t = ((p.r - a.r) * d.r + (p.z - a.z) * d.z) / (d.r * d.r + d.z * d.z);
  return distance(p, a + std::clamp(t, 0.0, 1.0) * d);
}

}  // namespace

EdgeLength::EdgeLength(const Section& section, const Arrangement& arrangement,
                       const OpenSpace& open, const Sizing& sizing)
    : section_(section), arrangement_(arrangement), sizing_(sizing) {
  const auto* box = std::get_if<Box>(&section.domain);
  const double extent =
      box != nullptr ? std::max(box->radius, 0.5 * (box->top - box->bottom)) : open.radius;
  longest_ = std::numbers::pi * extent / sizing.open_edges;
  find_contacts();
  find_facing();
  find_sharp_corners();
}

double EdgeLength::skin_depth(RegionId id) const {
  return id <= 0 ? std::numeric_limits<double>::infinity() : section_.regions[id - 1].skin_depth;
}

bool EdgeLength::bends_field(RegionId id) const {
  return id > 0 && (section_.regions[id - 1].bends_field || std::isfinite(skin_depth(id)));
}

void EdgeLength::find_contacts() {
  const std::size_t n = section_.regions.size() + 1;
  touch_.assign(n, std::vector<char>(n, 0));
  for (std::size_t i = 0; i < n; ++i) touch_[i][i] = 1;
  std::vector<std::vector<int>> at(arrangement_.corners.size());
  for (const Curve& c : arrangement_.curves)
    for (const int region : {c.left, c.right})
      if (region > 0) {
        at[c.from].push_back(region);
        at[c.to].push_back(region);
      }
  for (const auto& regions : at)
    for (const int a : regions)
      for (const int b : regions) touch_[a][b] = 1;
}

void EdgeLength::find_facing() {
  const auto& curves = arrangement_.curves;
  const auto end = [&](int corner) { return arrangement_.corners[corner]; };
  const auto gap = [&](const Curve& a, const Curve& b) {
    return std::min({distance_to_segment(end(a.from), end(b.from), end(b.to)),
                     distance_to_segment(end(a.to), end(b.from), end(b.to)),
                     distance_to_segment(end(b.from), end(a.from), end(a.to)),
                     distance_to_segment(end(b.to), end(a.from), end(a.to))});
  };
  facing_.resize(curves.size());
  for (std::size_t i = 0; i < curves.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const Curve &a = curves[i], &b = curves[j];
      if (a.arc || b.arc || a.cut() || b.cut()) continue;
      if (a.from == b.from || a.from == b.to || a.to == b.from || a.to == b.to) continue;
      if (longest_edge_over_gap * gap(a, b) > longest_) continue;
      facing_[i].push_back(static_cast<int>(j));
      facing_[j].push_back(static_cast<int>(i));
    }
}

double EdgeLength::across(const Curve& curve, Point p) const {
  double nearest = std::numeric_limits<double>::infinity();
  for (const int other : facing_[&curve - arrangement_.curves.data()]) {
    const Curve& c = arrangement_.curves[other];
    nearest = std::min(
        nearest, distance_to_segment(p, arrangement_.corners[c.from], arrangement_.corners[c.to]));
  }
  return nearest;
}

void EdgeLength::find_sharp_corners() {
  for (std::size_t id = 1; id < arrangement_.loops.size(); ++id) {
    const double delta = skin_depth(static_cast<RegionId>(id));
    if (!std::isfinite(delta)) continue;
    for (const Loop& loop : arrangement_.loops[id])
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const Step& in = loop[(i + loop.size() - 1) % loop.size()];
        const Step& out = loop[i];
        if (arrangement_.curves[in.curve].cut() || arrangement_.curves[out.curve].cut()) continue;
        const Point a = arrangement_.corners[arrangement_.start(in)],
                    b = arrangement_.corners[arrangement_.start(out)],
                    c = arrangement_.corners[arrangement_.end(out)];
        const Point u = b - a, v = c - b;
        const double turn = std::atan2(std::abs(u.r * v.z - u.z * v.r), u.r * v.r + u.z * v.z);
        if (turn < std::numbers::pi / 8) continue;
        // A corner cannot require more than fits on the sides that meet there.
        const double side = std::min(distance(a, b), distance(b, c));
        corners_.push_back(
            {b, std::min(sizing_.corner * delta, 0.35 * side), static_cast<int>(id)});
      }
  }
}

double EdgeLength::distance_to(RegionId id, Point p, const Curve* from) const {
  if (const auto* disc = std::get_if<Disc>(&section_.regions[id - 1].shape))
    return std::abs(distance(p, disc->centre) - disc->radius);
  double nearest = std::numeric_limits<double>::infinity();
  for (const Loop& loop : arrangement_.loops[id])
    for (const Step& s : loop) {
      const Curve& c = arrangement_.curves[s.curve];
      if (c.cut()) continue;
      const double d =
          distance_to_segment(p, arrangement_.corners[c.from], arrangement_.corners[c.to]);
      nearest = std::min(nearest, from == nullptr ? d : std::max(d, into_slot(*from, c, p)));
    }
  return nearest;
}

double EdgeLength::into_slot(const Curve& a, const Curve& b, Point p) const {
  constexpr double parallel = 0.02, share = 0.5;
  if (a.arc || b.arc) return 0.0;
  const std::array<Point, 4> end{arrangement_.corners[a.from], arrangement_.corners[a.to],
                                 arrangement_.corners[b.from], arrangement_.corners[b.to]};
  const Point u = end[1] - end[0], v = end[3] - end[2];
  if (std::abs(u.r * v.z - u.z * v.r) > parallel * std::hypot(u.r, u.z) * std::hypot(v.r, v.z))
    return 0.0;
  double nearest = std::numeric_limits<double>::infinity();
  for (const Point corner : end) nearest = std::min(nearest, distance(p, corner));
  return share * nearest;
}

EdgeLength::Clearance EdgeLength::clearance(Point p, RegionId left, RegionId right,
                                            const Curve* from) const {
  constexpr double far = std::numeric_limits<double>::infinity();
  Clearance nearest{far, far};
  for (std::size_t i = 1; i <= section_.regions.size(); ++i) {
    const auto id = static_cast<RegionId>(i);
    if ((left > 0 && touch_[left][i]) || (right > 0 && touch_[right][i])) continue;
    const double d = distance_to(id, p, from);
    nearest.body = std::min(nearest.body, d);
    if (bends_field(id)) nearest.conductor = std::min(nearest.conductor, d);
  }
  return nearest;
}

double EdgeLength::on_curve(const Curve& curve, Point p) const {
  if (curve.arc) return longest_;
  const Clearance clear = clearance(p, curve.left, curve.right, &curve);
  // Along the axis the field is smooth even where a body begins.
  if (curve.side && curve.left <= 0 && curve.right <= 0)
    return std::min(longest_, std::max(0.25 * longest_, sizing_.clearance * clear.conductor));
  const bool conductor = bends_field(curve.left) || bends_field(curve.right);
  // Beside an insulator short edges are needed only for sound triangles in the gap, not for the
  // field.
  double h = std::min({longest_, (conductor ? 1.0 : 2.0) * sizing_.clearance * clear.conductor,
                       2.5 * clear.body, longest_edge_over_gap * across(curve, p)});
  for (const SharpCorner& c : corners_)
    if (conductor || curve.cut())
      h = std::min(h, c.edge + sizing_.corner_growth * distance(p, c.at));
  for (const int region : {curve.left, curve.right})
    if (region > 0) h = std::min(h, section_.regions[region - 1].largest_edge);
  return h;
}

double EdgeLength::on_disc(RegionId id, Point p) const {
  const auto& disc = std::get<Disc>(section_.regions[id - 1].shape);
  const double round = 2 * std::numbers::pi * disc.radius / sizing_.round;
  const double h = std::min({round, sizing_.clearance * clearance(p, id, 0, nullptr).conductor,
                             section_.regions[id - 1].largest_edge});
  // Never so fine that a turn touching another would need too many edges.
  return std::max(h, round / 12);
}

}  // namespace cw
