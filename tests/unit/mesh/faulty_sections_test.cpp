// Sections that cannot be meshed give a message with the region's name; random ones never crash;
// the quality report finds faults.
#include <random>

#include "tests/unit/mesh/sound_mesh.hpp"

namespace cw {
namespace {

std::string message_of(const Section& section) {
  try {
    const Mesh mesh = generate_mesh(section);
    (void)mesh;
  } catch (const MeshError& error) {
    return error.what();
  }
  return "";
}

void expect_mentions(const std::string& message, const std::string& what) {
  EXPECT_NE(message.find(what), std::string::npos) << "message: " << message;
}

// Overlapping polygons name both.
TEST(FaultySections, OverlapAlongASideNamesTheRegions) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, 0}, {.01, .02}), kDepth});
  section.regions.push_back({"sleeve", rectangle({0, 0}, {.008, .02}), kDepth});
  const std::string message = message_of(section);
  expect_mentions(message, "workpiece");
  expect_mentions(message, "sleeve");
}

// Rings that overlap are named too.
TEST(FaultySections, OverlappingRingsNameARegion) {
  Section section;
  section.regions.push_back({"turn.1", Disc{{.02, 0}, .003, 0}, kDepth});
  section.regions.push_back({"turn.2", Disc{{.02, .004}, .003, 0}, kDepth});
  expect_mentions(message_of(section), "turn.");
}

// A ring inside the workpiece, and one that crosses its side.
TEST(FaultySections, RingInsideAnotherBodyNamesARegion) {
  for (const double r : {.02, .03}) {
    Section section;
    section.regions.push_back({"workpiece", rectangle({0, -.02}, {.03, .02}), kDepth});
    section.regions.push_back({"turn.1", Disc{{r, 0}, .003, 0}, kDepth});
    const std::string message = message_of(section);
    EXPECT_NE(message.find("turn.1") != std::string::npos ||
                  message.find("workpiece") != std::string::npos,
              false)
        << "message: " << message;
  }
}

// Bodies that reach beyond the open circle or across the axis.
TEST(FaultySections, BodiesOutsideTheDomainAreRefused) {
  Section outside;
  outside.regions.push_back({"workpiece", rectangle({0, -.02}, {.03, .02}), kDepth});
  outside.domain = OpenSpace{0, .02};
  EXPECT_NE(message_of(outside), "");
  Section across;
  across.regions.push_back({"turn.1", Disc{{.002, 0}, .003, 0}, kDepth});
  EXPECT_NE(message_of(across), "");
}

// Nothing to mesh and no size given.
TEST(FaultySections, EmptySectionIsRefused) {
  EXPECT_NE(message_of({}), "");
  Section sized;
  sized.domain = OpenSpace{0, .1};
  EXPECT_EQ(message_of(sized), "");
}

// For a folded triangle the report fails with its region's name; a sound mesh passes with its
// figures.
TEST(QualityReport, SeesFoldedAndFlatTriangles) {
  Mesh mesh;
  mesh.nodes = {{1, 0}, {2, 0}, {1, 1}, {1.5, 0}, {1.5, .5}, {1, .5}};
  mesh.vertices = 3;
  mesh.triangles = {{0, 1, 2, 3, 4, 5}};
  mesh.region = {1};
  mesh.region_name = {"air", "workpiece"};
  ASSERT_EQ(quality_report(mesh).size(), 1U);
  const RegionQuality q = quality_report(mesh)[0];
  EXPECT_EQ(q.region, "workpiece");
  EXPECT_EQ(q.triangles, 1U);
  EXPECT_NEAR(q.smallest_jacobian, 1.0, 1e-12);
  EXPECT_NEAR(q.smallest_angle, 45.0, 1e-9);
  EXPECT_NEAR(q.largest_angle, 90.0, 1e-9);
  EXPECT_NEAR(q.largest_aspect, 2.0, 1e-9);
  EXPECT_NO_THROW(require_quality(mesh));
  mesh.nodes[4] = {1.1, .1};  // the hypotenuse bulges through the opposite corner
  EXPECT_LT(quality_report(mesh)[0].smallest_jacobian, 0.0);
  try {
    require_quality(mesh);
    ADD_FAILURE() << "a folded triangle was accepted";
  } catch (const MeshError& error) {
    expect_mentions(error.what(), "workpiece");
  }
}

/// A rod or tube or stepped shaft, perhaps with a sleeve, in a coil of random turns: always
/// possible.
Section random_section(unsigned seed) {
  std::mt19937 engine(seed);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine);
  };
  Section section;
  const double radius = std::exp(between(std::log(.001), std::log(.05)));
  const double half = radius * std::exp(between(std::log(.2), std::log(8.0)));
  const double depth = radius * std::exp(between(std::log(.003), std::log(3.0)));
  const double bore = between(0, 1) < .3 ? radius * between(.1, .97) : 0.0;
  if (bore == 0 && between(0, 1) < .3) {
    const double step = radius * between(.2, .9);
    section.regions.push_back(
        {"workpiece",
         Polygon{{{0, -half}, {radius, -half}, {radius, 0}, {step, 0}, {step, half}, {0, half}},
                 {}},
         depth});
  } else {
    section.regions.push_back({"workpiece", rectangle({bore, -half}, {radius, half}), depth});
  }
  double clear = radius * between(1.02, 2.0);
  if (between(0, 1) < .3) {
    section.regions.push_back({"sleeve", rectangle({clear, -half}, {clear * 1.2, half})});
    clear *= 1.2 * between(1.02, 1.5);
  }
  const int turns = std::uniform_int_distribution<int>(1, 8)(engine);
  const double tube = clear * between(.05, .4);
  const double pitch = 2 * tube * between(1.03, 2.0);
  const double wall = between(0, 1) < .6 ? tube * between(.1, .6) : tube;
  const double copper = depth * between(.05, 1.0);
  const bool bar = between(0, 1) < .25;
  for (int k = 0; k < turns; ++k) {
    const Point centre{clear + tube, (k - .5 * (turns - 1)) * pitch};
    const std::string name = "turn." + std::to_string(k + 1);
    if (bar) {
      section.regions.push_back(
          {name, rectangle(centre - Point{tube, tube}, centre + Point{tube, tube}), copper});
    } else {
      section.regions.push_back({name, Disc{centre, tube, tube - wall}, copper});
    }
  }
  return section;
}

// Two hundred possible heaters of random proportions: every one is meshed, and soundly.
TEST(RandomSections, TwoHundredHeatersAreMeshed) {
  for (unsigned seed = 1; seed <= 200; ++seed) {
    SCOPED_TRACE(testing::Message() << "seed " << seed);
    try {
      const Mesh mesh = generate_mesh(random_section(seed));
      EXPECT_LT(mesh.triangles.size(), 60000U);
      if (seed % 4 == 0) expect_sound(mesh);
    } catch (const MeshError& error) {
      ADD_FAILURE() << error.what();
    }
  }
}

// Two hundred impossible or degenerate ones: a mesh or a MeshError, nothing else.
TEST(RandomSections, TwoHundredCarelessSectionsNeverCrash) {
  int refused = 0;
  for (unsigned seed = 1; seed <= 200; ++seed) {
    std::mt19937 engine(seed);
    const auto between = [&](double low, double high) {
      return std::uniform_real_distribution<double>(low, high)(engine);
    };
    Section section;
    for (int k = 0; k < 4; ++k) {
      const Point p{between(-.002, .03), between(-.02, .02)};
      const std::string name = "body." + std::to_string(k);
      if (between(0, 1) < .5) {
        section.regions.push_back(
            {name, Disc{p, between(0, .008), between(0, .004)}, between(1e-5, 1e-2)});
      } else {
        const Point q = p + Point{between(0, .01), between(0, .01)};
        section.regions.push_back({name, rectangle(p, q), between(1e-5, 1e-2)});
      }
    }
    try {
      (void)generate_mesh(section);
    } catch (const MeshError&) {
      ++refused;
    }
  }
  EXPECT_GT(refused, 20);
  EXPECT_LT(refused, 200);
}

}  // namespace
}  // namespace cw
