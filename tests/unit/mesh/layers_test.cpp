// Skin layers: their thickness, their curvature, and finer edges at sharp corners.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/sizing.hpp"
#include "tests/unit/mesh/sound_mesh.hpp"

namespace cw {
namespace {

/// Distances from a disc's surface at which corner nodes lie, each once, rising.
std::vector<double> ring_depths(const Mesh& mesh, RegionId region, const Disc& disc) {
  std::vector<double> depths;
  for (const int node : corners_of(mesh, region)) {
    depths.push_back(disc.radius - distance(mesh.nodes[node], disc.centre));
  }
  std::sort(depths.begin(), depths.end());
  const auto same = [](double a, double b) { return b - a < 1e-9; };
  depths.erase(std::unique(depths.begin(), depths.end(), same), depths.end());
  return depths;
}

// Mid-edge nodes of every ring of a tube lie on its circle: straight inner edges would cost six
// times the error in resistance.
TEST(Layers, MiddlesOfTubeRingsLieOnTrueCircles) {
  Section section;
  const Disc tube{{.02, .003}, .003, .002};
  section.regions.push_back({"turn.1", tube, kDepth});
  section.regions.push_back({"workpiece", rectangle({0, -.01}, {.015, .01}), kDepth});
  const Mesh mesh = generate_mesh(section);
  int on_rings = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != 1) continue;
    for (int k = 0; k < 3; ++k) {
      const auto radius = [&](int node) { return distance(mesh.nodes[node], tube.centre); };
      const double a = radius(mesh.triangles[t][k]);
      const double b = radius(mesh.triangles[t][(k + 1) % 3]);
      if (std::abs(a - b) > 1e-12) continue;
      ++on_rings;
      EXPECT_NEAR(radius(mesh.triangles[t][3 + k]), a, 1e-12);
    }
  }
  EXPECT_GE(on_rings, 100);
}

// The first layer of tubes and bars is no thicker than requested, whatever remains for the others,
// and the layers fill the wall.
TEST(Layers, FirstLayerOfDiscsIsAsAsked) {
  for (const double wall : {.0008, .0010, .0013, .0016, .002, .0025}) {
    for (const double depth : {.0001, .00021, .0003, .0005}) {
      const Disc tube{{.02, 0}, .003, .003 - wall};
      Section section;
      section.regions.push_back({"turn.1", tube, depth});
      const Mesh mesh = generate_mesh(section);
      const auto depths = ring_depths(mesh, 1, tube);
      ASSERT_GE(depths.size(), 2U);
      const double asked = std::min(.6 * depth, wall);
      EXPECT_LE(depths[1], 1.000001 * asked);
      EXPECT_GE(depths[1], .49 * asked);
      EXPECT_NEAR(depths.back(), wall, 1e-12);
      for (std::size_t k = 2; k < depths.size(); ++k) {
        EXPECT_LE(depths[k] - depths[k - 1], 2.001 * (depths[k - 1] - depths[k - 2]));
      }
    }
  }
}

// The strips of a straight side are at the depths the sizing gives.
TEST(Layers, StripsOfARodLieAtTheirDepths) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -.02}, {.01, .02}), kDepth});
  const Mesh mesh = generate_mesh(section);
  const auto asked = layer_depths({}, kDepth, .008);
  ASSERT_EQ(asked.size(), 1U + Sizing{}.layers);
  EXPECT_DOUBLE_EQ(asked[1], Sizing{}.first_layer * kDepth);
  for (const double d : asked) {
    int nodes = 0;
    for (const int node : corners_of(mesh, 1)) {
      const Point p = mesh.nodes[node];
      if (std::abs(p.z) < .015 && std::abs(p.r - (.01 - d)) < 1e-9) ++nodes;
    }
    EXPECT_GE(nodes, 3) << d;
  }
}

// Towards a buried skin the layers become as thin as its own, one of them ends at its depth, and
// below it they grow as from a surface.
TEST(Layers, BeginAnewAtABuriedSkin) {
  const Sizing sizing;
  for (const double depth : {.5, 1., 3., 7.}) {
    for (const double below : {.05, .3, 2.}) {
      const auto depths = layer_depths(sizing, 1.0, 100.0, BuriedSkin{depth, below});
      const auto front = std::find(depths.begin(), depths.end(), depth);
      ASSERT_NE(front, depths.end());
      EXPECT_LE(front[0] - front[-1], 1.5 * sizing.first_layer * below + 1e-12) << depth;
      EXPECT_NEAR(front[1] - front[0], sizing.first_layer * below, 1e-12);
      EXPECT_EQ(depths.end() - front, 1 + sizing.layers);
      for (auto d = depths.begin() + 2; d < front; ++d)
        EXPECT_LE(d[0] - d[-1], 2.001 * (d[-1] - d[-2]));
    }
  }
}

// Depths rise, end where the body ends, and leave no sliver.
TEST(Layers, DepthsFitWhatIsAvailable) {
  const Sizing sizing;
  EXPECT_EQ(layer_depths(sizing, std::numeric_limits<double>::infinity(), 1.0).size(), 1U);
  EXPECT_EQ(layer_depths(sizing, 1.0, 0.0).size(), 1U);
  for (const double available : {.1, .5, 1., 2., 3., 5., 8., 20.}) {
    const auto depths = layer_depths(sizing, 1.0, available);
    EXPECT_EQ(depths.front(), 0.0);
    EXPECT_LE(depths.back(), available);
    EXPECT_LE(depths[1],
              std::max(sizing.first_layer * 1.5, available * (available < .9 ? 1.0 : 0.0)) + 1e-12);
    for (std::size_t k = 1; k < depths.size(); ++k)
      EXPECT_GT(depths[k] - depths[k - 1], .05 * available / 8);
  }
}

// Scaling makes every layer thinner over the same depth, with more of them.
TEST(Layers, ScaledSizingReachesTheSameDepth) {
  const Sizing coarse;
  const double whole = layer_depths(coarse, 1.0, 100.0).back();
  for (const double f : {.7, .5, .35, .25}) {
    const auto fine = layer_depths(coarse.scaled(f), 1.0, 100.0);
    EXPECT_NEAR(fine[1], coarse.first_layer * f, 1e-12);
    EXPECT_NEAR(fine.back(), whole, .3 * whole) << f;
    EXPECT_GT(fine.size(), coarse.layers / f * .8);
  }
}

// Edges along the surface near a sharp corner are no longer than the skin depth requires (the first
// extends to where the next one, longer by its distance, begins); far from it they are.
TEST(Layers, EdgesAreShortAtCorners) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -.02}, {.01, .02}), kDepth});
  const Mesh mesh = generate_mesh(section);
  double at_corner = 0;
  double at_middle = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (int k = 0; k < 3; ++k) {
      const Point a = mesh.nodes[mesh.triangles[t][k]];
      const Point b = mesh.nodes[mesh.triangles[t][(k + 1) % 3]];
      if (std::abs(a.r - .01) > 1e-9 || std::abs(b.r - .01) > 1e-9) continue;
      if (std::max(a.z, b.z) > .02 - 1e-9) at_corner = std::max(at_corner, distance(a, b));
      if (a.z * b.z <= 0) at_middle = std::max(at_middle, distance(a, b));
    }
  }
  EXPECT_GT(at_corner, 0.0);
  EXPECT_LT(at_corner, (1 + Sizing{}.corner_growth) * Sizing{}.corner * kDepth);
  EXPECT_GT(at_middle, 5 * at_corner);
}

// spread() follows the wanted length, keeps both ends and at least the requested number.
TEST(Layers, SpreadFollowsTheWantedLength) {
  const auto even = spread(
      1.0, [](double) { return .25; }, 1);
  ASSERT_EQ(even.size(), 5U);
  for (std::size_t k = 0; k < 5; ++k) EXPECT_NEAR(even[k], .25 * static_cast<double>(k), 1e-6);
  EXPECT_EQ(spread(
                1.0, [](double) { return 10.0; }, 3)
                .size(),
            4U);
  const auto graded = spread(
      1.0, [](double s) { return .01 + .3 * s; }, 1);
  EXPECT_EQ(graded.front(), 0.0);
  EXPECT_EQ(graded.back(), 1.0);
  for (std::size_t k = 1; k < graded.size(); ++k) {
    const double h = .01 + .3 * .5 * (graded[k] + graded[k - 1]);
    EXPECT_NEAR(graded[k] - graded[k - 1], h, .35 * h);
  }
}

}  // namespace
}  // namespace cw
