#include "mesh/arrangement.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mesh/generate.hpp"

namespace cw {

namespace {

class Arranger {
 public:
  Arranger(const Section& section, const OpenSpace& open) : section_(section), open_(open) {}

  Arrangement run() {
    collect_corners();
    result_.loops.resize(section_.regions.size() + 1);
    for (std::size_t i = 0; i < section_.regions.size(); ++i)
      if (const auto* polygon = std::get_if<Polygon>(&section_.regions[i].shape))
        add_region(*polygon, static_cast<RegionId>(i) + 1);
    add_border();
    for (Curve& c : result_.curves) {
      if (c.left == unknown) c.left = 0;
      if (c.right == unknown) c.right = 0;
    }
    return std::move(result_);
  }

 private:
  static constexpr int unknown = -2;

  template <class Visit>
  static void each_loop(const Polygon& polygon, Visit visit) {
    visit(polygon.outline);
    for (const auto& hole : polygon.holes) visit(hole);
  }

  void collect_corners() {
    double extent = open_.radius;
    if (const auto* box = std::get_if<Box>(&section_.domain)) {
      extent = std::max(box->radius, box->top - box->bottom);
      border_ = {
          {0, box->bottom}, {box->radius, box->bottom}, {box->radius, box->top}, {0, box->top}};
    } else {
      border_ = {{0, open_.centre_z - extent}, {0, open_.centre_z + extent}};
    }
    tolerance_ = 1e-9 * extent;
    for (const Point p : border_) corner(p);
    for (const auto& region : section_.regions)
      if (const auto* polygon = std::get_if<Polygon>(&region.shape))
        each_loop(*polygon, [&](const auto& loop) {
          for (const Point p : loop) corner(p);
        });
      else if (const auto& disc = std::get<Disc>(region.shape); disc.centre.r == 0) {
        corner({0, disc.centre.z - disc.radius});
        corner({0, disc.centre.z + disc.radius});
      }
  }

  /// The disc on the axis that covers the part of the axis about z; 0 if there is none.
  [[nodiscard]] RegionId disc_on_axis(double z) const {
    for (std::size_t i = 0; i < section_.regions.size(); ++i)
      if (const auto* disc = std::get_if<Disc>(&section_.regions[i].shape))
        if (disc->centre.r == 0 && std::abs(z - disc->centre.z) < disc->radius)
          return static_cast<RegionId>(i) + 1;
    return 0;
  }

  int corner(Point p) {
    for (std::size_t i = 0; i < result_.corners.size(); ++i)
      if (distance(result_.corners[i], p) < tolerance_) return static_cast<int>(i);
    result_.corners.push_back(p);
    return static_cast<int>(result_.corners.size()) - 1;
  }

  /// Corner indices along the segment a-b, both ends included.
  [[nodiscard]] std::vector<int> stops(int a, int b) const {
    const Point p = result_.corners[a], q = result_.corners[b];
    const double length = distance(p, q);
    const Point along = (1 / length) * (q - p);
    std::vector<std::pair<double, int>> found;
    for (std::size_t i = 0; i < result_.corners.size(); ++i) {
      const Point d = result_.corners[i] - p;
      const double t = d.r * along.r + d.z * along.z, off = d.r * along.z - d.z * along.r;
      if (std::abs(off) < tolerance_ && t > -tolerance_ && t < length + tolerance_)
        found.emplace_back(t, static_cast<int>(i));
    }
    std::sort(found.begin(), found.end());
    std::vector<int> order;
    order.reserve(found.size());
    for (const auto& [t, i] : found) order.push_back(i);
    return order;
  }

  Step claim(int a, int b, int region) {
    for (std::size_t i = 0; i < result_.curves.size(); ++i) {
      Curve& c = result_.curves[i];
      if (c.arc || !((c.from == a && c.to == b) || (c.from == b && c.to == a))) continue;
      const bool forward = c.from == a;
      int& mine = forward ? c.left : c.right;
      if (mine != unknown && region > 0 && mine != region)
        throw MeshError(fmt::format(
            "region {} and region {} overlap along a side near r = {:.4g} mm, z = {:.4g} mm",
            name(region), name(mine), 1e3 * result_.corners[a].r, 1e3 * result_.corners[a].z));
      if (mine == unknown) mine = region;
      return {static_cast<int>(i), forward};
    }
    result_.curves.push_back({a, b, region, unknown, false, std::nullopt});
    return {static_cast<int>(result_.curves.size()) - 1, true};
  }

  [[nodiscard]] std::string name(int region) const {
    return region <= 0 ? "air" : section_.regions[region - 1].name;
  }

  void add_region(const Polygon& polygon, RegionId id) {
    each_loop(polygon, [&](const std::vector<Point>& points) {
      Loop loop;
      for (std::size_t i = 0; i < points.size(); ++i) {
        const auto order = stops(corner(points[i]), corner(points[(i + 1) % points.size()]));
        for (std::size_t k = 0; k + 1 < order.size(); ++k)
          loop.push_back(claim(order[k], order[k + 1], id));
      }
      result_.loops[id].push_back(std::move(loop));
    });
  }

  void add_border_side(int a, int b, Side side) {
    const auto order = stops(a, b);
    for (std::size_t k = 0; k + 1 < order.size(); ++k) {
      // Air on the left unless a body is already there; beyond the border there is nothing.
      const double middle = 0.5 * (result_.corners[order[k]].z + result_.corners[order[k + 1]].z);
      const Step s = claim(order[k], order[k + 1], side == Side::axis ? disc_on_axis(middle) : 0);
      Curve& c = result_.curves[s.curve];
      (s.forward ? c.right : c.left) = Curve::outside;
      c.side = side;
    }
  }

  void add_border() {
    if (std::holds_alternative<Box>(section_.domain)) {
      add_border_side(0, 1, Side::bottom);
      add_border_side(1, 2, Side::outer);
      add_border_side(2, 3, Side::top);
      add_border_side(3, 0, Side::axis);
      return;
    }
    add_border_side(1, 0, Side::axis);
    result_.curves.push_back({0, 1, 0, Curve::outside, true, Side::open});
  }

  const Section& section_;
  const OpenSpace open_;
  double tolerance_ = 0.0;
  std::vector<Point> border_;
  Arrangement result_;
};

}  // namespace

int Arrangement::start(const Step& s) const {
  return s.forward ? curves[s.curve].from : curves[s.curve].to;
}
int Arrangement::end(const Step& s) const {
  return s.forward ? curves[s.curve].to : curves[s.curve].from;
}

Arrangement arrange(const Section& section, const OpenSpace& open) {
  return Arranger(section, open).run();
}

}  // namespace cw
