#pragma once

#include <vector>

#include "mesh/arrangement.hpp"
#include "mesh/sizing.hpp"

namespace cw {

/// Longest edge beside a thin wall or slot over its width, so that triangles in it do not become
/// flat.
constexpr double longest_edge_over_gap = 25.0;

/// Wanted length of edges along surfaces: short near sharp corners of conductors (the field bends
/// there within a skin depth), elsewhere proportional to the distance from the next conductor.
class EdgeLength {
 public:
  EdgeLength(const Section& section, const Arrangement& arrangement, const OpenSpace& open,
             const Sizing& sizing);

  /// At point p of a curve [m].
  [[nodiscard]] double on_curve(const Curve& curve, Point p) const;
  /// At point p of the circle of disc region `id` [m].
  [[nodiscard]] double on_disc(RegionId id, Point p) const;

 private:
  struct SharpCorner {
    Point at;
    double edge;
    int left_region;
  };

  void find_sharp_corners();
  void find_contacts();
  void find_facing();
  /// Distance from p on `curve` to the nearest side that faces it across a wall or slot, if it is
  /// near enough to matter.
  [[nodiscard]] double across(const Curve& curve, Point p) const;
  /// Distance from p between `left` and `right` to the nearest other conductor, and to any other
  /// body. In a slot between parallel sides, half the distance to its mouth if that is more, since
  /// the field along it varies no faster. `from`: the curve of p; null on a disc.
  struct Clearance {
    double conductor, body;
  };
  [[nodiscard]] Clearance clearance(Point p, RegionId left, RegionId right,
                                    const Curve* from) const;
  [[nodiscard]] double distance_to(RegionId id, Point p, const Curve* from) const;
  /// Half the distance from p on `a` to the nearest end of `a` and `b`, if these are parallel.
  [[nodiscard]] double into_slot(const Curve& a, const Curve& b, Point p) const;
  [[nodiscard]] double skin_depth(RegionId id) const;
  [[nodiscard]] bool bends_field(RegionId id) const;

  const Section& section_;
  const Arrangement& arrangement_;
  const Sizing sizing_;
  double longest_;
  std::vector<SharpCorner> corners_;
  std::vector<std::vector<int>> facing_;  ///< by curve: nearby curves that do not meet it
  std::vector<std::vector<char>>
      touch_;  ///< by pair of regions: bodies in contact do not shorten each other's edges
};

}  // namespace cw
