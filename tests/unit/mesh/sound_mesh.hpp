#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "mesh/generate.hpp"
#include "mesh/quality.hpp"
#include "solver/fem/triangle.hpp"

namespace cw {

inline constexpr double kDepth = .0003;  ///< of a skin [m]

/// Area of one region in the half-plane [m^2], curved sides included.
inline double region_area(const Mesh& mesh, RegionId region) {
  double area = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    for (const auto& s : triangle_samples(triangle_points(mesh, t))) area += s.area;
  }
  return area;
}

/// Volume of one region turned about the axis [m^3].
inline double region_volume(const Mesh& mesh, RegionId region) {
  double volume = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    for (const auto& s : triangle_samples(triangle_points(mesh, t))) {
      volume += 2 * std::numbers::pi * s.radius * s.area;
    }
  }
  return volume;
}

/// Corner nodes that triangles of a region use.
inline std::set<int> corners_of(const Mesh& mesh, RegionId region) {
  std::set<int> corners;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    for (int k = 0; k < 3; ++k) corners.insert(mesh.triangles[t][k]);
  }
  return corners;
}

/// What every mesh must satisfy: each edge in two triangles, with one mid-edge node, or in one and
/// on the border; no two nodes in one place; nothing folded; every region there; radii not
/// negative.
inline void expect_sound(const Mesh& mesh) {
  std::map<std::pair<int, int>, std::pair<int, int>> edges;  // corners -> times used, middle
  for (const auto& t : mesh.triangles) {
    for (int k = 0; k < 3; ++k) {
      const int a = t[k];
      const int b = t[(k + 1) % 3];
      auto& edge = edges.try_emplace(std::minmax(a, b), 0, t[3 + k]).first->second;
      ++edge.first;
      EXPECT_EQ(edge.second, t[3 + k]) << "an edge with two middles";
    }
  }
  for (const BorderEdge& b : mesh.border) {
    const auto found = edges.find(std::minmax(b.from, b.to));
    ASSERT_NE(found, edges.end());
    EXPECT_EQ(found->second.first, 1);
    EXPECT_EQ(found->second.second, b.middle);
    ++found->second.first;
  }
  for (const auto& [corners, edge] : edges) {
    EXPECT_EQ(edge.first, 2) << "an edge in one triangle only, not on the border, at r = "
                             << mesh.nodes[corners.first].r
                             << ", z = " << mesh.nodes[corners.first].z;
  }
  std::set<std::pair<double, double>> places;
  for (const Point p : mesh.nodes) {
    EXPECT_GE(p.r, 0.0);
    EXPECT_TRUE(places.emplace(p.r, p.z).second) << "two nodes at r = " << p.r << ", z = " << p.z;
  }
  for (const RegionQuality& q : quality_report(mesh))
    EXPECT_GT(q.smallest_jacobian, 0.1) << q.region;
  for (std::size_t i = 1; i < mesh.region_name.size(); ++i) {
    EXPECT_GT(region_area(mesh, static_cast<RegionId>(i)), 0.0) << mesh.region_name[i];
  }
}

}  // namespace cw
