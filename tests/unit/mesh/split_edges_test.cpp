// Splitting marked edges gives a sound mesh of the same regions, for any marks.
#include "mesh/split_edges.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "tests/unit/mesh/sound_mesh.hpp"

namespace cw {
namespace {

/// A rod with skin layers in a tube with a curved surface (an invented set-up).
Mesh rod_in_ring() {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -.02}, {.008, .02}), .0004});
  section.regions.push_back({"turn.1", Disc{{.015, 0}, .003, .002}, .0003});
  return generate_mesh(section, Sizing{}.scaled(2));
}

std::vector<char> marks(const Mesh& mesh, char value) {
  return std::vector<char>(mesh.nodes.size() - mesh.vertices, value);
}

/// Marks each edge with a probability.
std::vector<char> random_marks(const Mesh& mesh, double share, unsigned seed) {
  std::minstd_rand random(seed);
  std::vector<char> marked = marks(mesh, 0);
  constexpr auto whole = static_cast<double>(std::minstd_rand::max());
  for (char& m : marked) m = static_cast<double>(random()) < share * whole ? 1 : 0;
  return marked;
}

// Nothing marked, nothing changed.
TEST(SplitEdges, LeavesTheMeshAloneWithoutMarks) {
  const Mesh mesh = rod_in_ring(), same = split_edges(mesh, marks(mesh, 0));
  EXPECT_EQ(same.triangles.size(), mesh.triangles.size());
  EXPECT_EQ(same.nodes.size(), mesh.nodes.size());
}

// Every edge cut: four triangles for one.
TEST(SplitEdges, QuartersEveryTriangleWhenAllAreMarked) {
  const Mesh mesh = rod_in_ring(), fine = split_edges(mesh, marks(mesh, 1));
  EXPECT_EQ(fine.triangles.size(), 4 * mesh.triangles.size());
  EXPECT_EQ(fine.border.size(), 2 * mesh.border.size());
  expect_sound(fine);
}

// For any marks, repeatedly: edges fit, nothing folds, regions keep their areas. A polygon's area
// is exact; a disc's approaches that of its circle.
TEST(SplitEdges, StaysSoundUnderRandomMarks) {
  for (const unsigned seed : {1U, 2U, 3U}) {
    SCOPED_TRACE(seed);
    Mesh mesh = rod_in_ring();
    for (unsigned round = 0; round < 3; ++round)
      mesh = split_edges(mesh, random_marks(mesh, 0.2, 10 * seed + round));
    expect_sound(mesh);
    EXPECT_NEAR(region_area(mesh, 1), .008 * .04, 1e-12 * .008 * .04);
    const double ring = std::numbers::pi * (.003 * .003 - .002 * .002);
    EXPECT_NEAR(region_area(mesh, 2), ring, 1e-4 * ring);
  }
}

// New nodes on a round surface lie on its circle.
TEST(SplitEdges, KeepsRoundSurfacesRound) {
  const Mesh coarse = rod_in_ring();
  const Mesh mesh = split_edges(split_edges(coarse, marks(coarse, 1)),
                                random_marks(split_edges(coarse, marks(coarse, 1)), 0.5, 7));
  int on_circle = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != 2) continue;
    for (std::size_t k = 0; k < 3; ++k) {
      const auto radius = [&](std::size_t i) {
        return distance(mesh.nodes[mesh.triangles[t][i]], Point{.015, 0});
      };
      if (std::abs(radius(k) - .003) > 1e-9 || std::abs(radius((k + 1) % 3) - .003) > 1e-9)
        continue;
      EXPECT_NEAR(radius(3 + k), .003, 1e-9);
      ++on_circle;
    }
  }
  EXPECT_GT(on_circle, 40);
}

// The open circle stays round too, and the border stays marked.
TEST(SplitEdges, KeepsTheOpenCircle) {
  const Mesh coarse = rod_in_ring(), mesh = split_edges(coarse, marks(coarse, 1));
  const auto open = [](const Mesh& m) {
    return std::ranges::count(m.border, Side::open, &BorderEdge::side);
  };
  ASSERT_GT(open(coarse), 0);
  EXPECT_EQ(open(mesh), 2 * open(coarse));
  for (const BorderEdge& e : mesh.border) {
    if (e.side != Side::open) continue;
    for (const int node : {e.from, e.middle, e.to}) {
      EXPECT_NEAR(distance(mesh.nodes[node], mesh.centre), mesh.open_radius,
                  1e-9 * mesh.open_radius);
    }
  }
}

}  // namespace
}  // namespace cw
