// Sections of every kind: the mesh is sound and its regions have the areas and volumes of the
// shapes.
#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <random>
#include <thread>
#include <vector>

#include "tests/unit/mesh/sound_mesh.hpp"

namespace cw {
namespace {

void expect_area(const Mesh& mesh, const std::string& name, double area, double tolerance = 1e-9) {
  ASSERT_GE(mesh.find_region(name), 0) << name;
  EXPECT_NEAR(region_area(mesh, mesh.find_region(name)), area, tolerance * area) << name;
}

double whole_area(const Mesh& mesh) {
  double area = 0;
  for (std::size_t i = 0; i < mesh.region_name.size(); ++i)
    area += region_area(mesh, static_cast<RegionId>(i));
  return area;
}

// A coil of tubes round a rod: areas, and volumes as Pappus gives them; the mid-side arcs of 20
// edges leave 2e-5.
TEST(Shapes, TubesRoundARodHaveTheirAreasAndVolumes) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -.02}, {.008, .025}), kDepth});
  for (int k = 0; k < 3; ++k) {
    section.regions.push_back(
        {"turn." + std::to_string(k + 1), Disc{{.02, .01 * k - .01}, .003, .002}, kDepth});
  }
  const Mesh mesh = generate_mesh(section);
  expect_sound(mesh);
  using std::numbers::pi;
  const double wall = pi * (9e-6 - 4e-6);
  expect_area(mesh, "workpiece", .008 * .045);
  EXPECT_NEAR(region_volume(mesh, 1), pi * .008 * .008 * .045, 1e-9 * pi * .008 * .008 * .045);
  for (int k = 1; k <= 3; ++k) {
    expect_area(mesh, "turn." + std::to_string(k), wall, 5e-5);
    EXPECT_NEAR(region_volume(mesh, k + 1), 2 * pi * .02 * wall, 5e-5 * 2 * pi * .02 * wall);
  }
  EXPECT_NEAR(whole_area(mesh), .5 * pi * mesh.open_radius * mesh.open_radius,
              5e-5 * mesh.open_radius);
}

// The crust of a cup and the charge in it, which touch along three sides, share their nodes there:
// no gap and no second set.
TEST(Shapes, TouchingBodiesShareNodes) {
  Section section;
  section.regions.push_back(
      {"cup", Polygon{{{0, 0}, {.02, 0}, {.02, .04}, {.016, .04}, {.016, .004}, {0, .004}}, {}},
       .002});
  section.regions.push_back({"charge", rectangle({0, .004}, {.016, .030}), kDepth});
  const Mesh mesh = generate_mesh(section);
  expect_sound(mesh);
  expect_area(mesh, "cup", .02 * .04 - .016 * .036);
  expect_area(mesh, "charge", .016 * .026);
  const std::set<int> cup = corners_of(mesh, 1);
  const std::set<int> charge = corners_of(mesh, 2);
  std::vector<int> shared;
  std::set_intersection(cup.begin(), cup.end(), charge.begin(), charge.end(),
                        std::back_inserter(shared));
  EXPECT_GE(shared.size(), 10U);
  for (const int node : charge) {
    const Point p = mesh.nodes[node];
    const bool on_contact = p.z < .004 + 1e-12 || p.r > .016 - 1e-12;
    EXPECT_EQ(cup.count(node) == 1, on_contact) << p.r << ", " << p.z;
  }
}

// Hollow and thin-walled workpieces, the thinnest thinner than a skin depth.
TEST(Shapes, HollowWorkpieces) {
  for (const double wall : {.004, .0005, .00005}) {
    Section section;
    section.regions.push_back({"workpiece", rectangle({.01 - wall, -.02}, {.01, .02}), kDepth});
    section.regions.push_back({"turn.1", Disc{{.018, 0}, .003, 0}, kDepth});
    const Mesh mesh = generate_mesh(section);
    expect_sound(mesh);
    expect_area(mesh, "workpiece", wall * .04);
  }
}

// A stepped shaft has a re-entrant corner; a polygon may carry a hole.
TEST(Shapes, SteppedProfileAndHole) {
  Section section;
  section.regions.push_back(
      {"workpiece",
       Polygon{{{0, -.02}, {.012, -.02}, {.012, 0}, {.006, 0}, {.006, .02}, {0, .02}}, {}},
       kDepth});
  section.regions.push_back({"frame",
                             Polygon{{{.02, -.01}, {.03, -.01}, {.03, .01}, {.02, .01}},
                                     {{{.022, -.008}, {.022, .008}, {.028, .008}, {.028, -.008}}}},
                             kDepth});
  const Mesh mesh = generate_mesh(section);
  expect_sound(mesh);
  expect_area(mesh, "workpiece", .012 * .02 + .006 * .02);
  expect_area(mesh, "frame", .01 * .02 - .006 * .016);
}

// Square bar and rectangular tube as turns, flat side to the work, and a cone for a workpiece.
TEST(Shapes, SquareAndRectangularConductors) {
  Section section;
  section.regions.push_back(
      {"workpiece", Polygon{{{0, -.02}, {.012, -.02}, {.004, .02}, {0, .02}}, {}}, kDepth});
  section.regions.push_back({"turn.1", rectangle({.016, -.008}, {.022, -.002}), kDepth});
  section.regions.push_back({"turn.2",
                             Polygon{{{.016, .001}, {.024, .001}, {.024, .007}, {.016, .007}},
                                     {{{.017, .002}, {.017, .006}, {.023, .006}, {.023, .002}}}},
                             kDepth});
  const Mesh mesh = generate_mesh(section);
  expect_sound(mesh);
  expect_area(mesh, "workpiece", .5 * (.012 + .004) * .04);
  expect_area(mesh, "turn.1", .006 * .006);
  expect_area(mesh, "turn.2", .008 * .006 - .006 * .004);
}

// Spheres, full and hollow, sit on the axis.
TEST(Shapes, SpheresOnTheAxis) {
  Section section;
  section.regions.push_back({"ball", Disc{{0, -.03}, .01, 0}, kDepth});
  section.regions.push_back({"shell", Disc{{0, .02}, .015, .013}, kDepth});
  const Mesh mesh = generate_mesh(section);
  expect_sound(mesh);
  using std::numbers::pi;
  expect_area(mesh, "ball", .5 * pi * 1e-4, 1e-4);
  expect_area(mesh, "shell", .5 * pi * (2.25e-4 - 1.69e-4), 1e-4);
  EXPECT_NEAR(region_volume(mesh, 1), 4. / 3 * pi * 1e-6, 1e-4 * 4e-6);
}

// Several bodies, one of them not conducting, one on the axis above another, and turns 0.2 mm
// apart.
TEST(Shapes, SeveralBodiesAndCloseTurns) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -.02}, {.01, .01}), kDepth});
  section.regions.push_back({"tip", rectangle({0, .01}, {.004, .02}), 2 * kDepth});
  section.regions.push_back({"sleeve", rectangle({.011, -.03}, {.013, .03})});
  for (int k = 0; k < 8; ++k) {
    section.regions.push_back(
        {"turn." + std::to_string(k + 1), Disc{{.018, .0062 * (k - 3.5)}, .003, .002}, kDepth});
  }
  const Mesh mesh = generate_mesh(section);
  expect_sound(mesh);
  expect_area(mesh, "tip", .004 * .01);
  expect_area(mesh, "sleeve", .002 * .06);
  expect_area(mesh, "turn.8", std::numbers::pi * 5e-6, 5e-5);
  EXPECT_LT(mesh.triangles.size(), 20000U);
}

// A slice between cut planes carries its border sides in full length.
TEST(Shapes, BoxHasItsFourSides) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, 0}, {.01, .02}), kDepth});
  section.domain = Box{.03, 0, .02};
  const Mesh mesh = generate_mesh(section);
  expect_sound(mesh);
  EXPECT_EQ(mesh.open_radius, 0.0);
  EXPECT_NEAR(whole_area(mesh), .03 * .02, 1e-12);
  std::map<Side, double> length;
  for (const BorderEdge& e : mesh.border)
    length[e.side] += distance(mesh.nodes[e.from], mesh.nodes[e.to]);
  EXPECT_NEAR(length[Side::axis], .02, 1e-12);
  EXPECT_NEAR(length[Side::outer], .02, 1e-12);
  EXPECT_NEAR(length[Side::top], .03, 1e-12);
  EXPECT_NEAR(length[Side::bottom], .03, 1e-12);
  EXPECT_EQ(length.count(Side::open), 0U);
}

/// Memory with holes of many sizes: later allocations are in no order.
class StrewnMemory {
 public:
  StrewnMemory() {
    std::mt19937 random(1);
    for (int k = 0; k < 20000; ++k)
      blocks_.push_back(std::make_unique<std::vector<char>>(16 + random() % 600));
    std::ranges::shuffle(blocks_, random);
    blocks_.resize(blocks_.size() / 4);
  }

 private:
  std::vector<std::unique_ptr<std::vector<char>>> blocks_;
};

/// A nut on a stud in a coil, with layers far thinner than the gaps are wide.
Section nut_on_stud(int turns, double pitch) {
  Section section;
  section.regions.push_back({"nut", rectangle({.004, -.01}, {.0095, .01}), .00006});
  section.regions.push_back({"stud", rectangle({0, -.03}, {.0039, .03}), .0001});
  for (int k = 0; k < turns; ++k)
    section.regions.push_back({"turn." + std::to_string(k + 1),
                               Disc{{.02, pitch * (k - .5 * (turns - 1))}, .003, .002}, kDepth});
  return section;
}

// The same section gives the same mesh, node for node, whatever was meshed before, wherever memory
// was free, and in any thread.
TEST(Shapes, SameSectionSameMesh) {
  std::vector<Section> sections;
  for (const int turns : {1, 3, 4, 6})
    for (const double pitch : {.0063, .0071, .008, .0088, .0095})
      sections.push_back(nut_on_stud(turns, pitch));
  std::vector<Mesh> first, second(sections.size());
  for (const Section& section : sections) first.push_back(generate_mesh(section));
  for (std::size_t k = sections.size(); k-- > 0;)
    std::jthread([&] {
      const StrewnMemory strewn;
      second[k] = generate_mesh(sections[k]);
    }).join();
  for (std::size_t k = 0; k < sections.size(); ++k) {
    EXPECT_EQ(first[k].triangles, second[k].triangles) << k;
    EXPECT_EQ(first[k].nodes, second[k].nodes) << k;
  }
}

}  // namespace
}  // namespace cw
