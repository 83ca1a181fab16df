#include "cases/sweep/kept_meshes.hpp"

#include <gtest/gtest.h>

#include "mesh/generate.hpp"

namespace cw::cases {
namespace {

/// A bar and three tubes `pitch` apart.
Section coil(double pitch) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -0.03}, {0.012, 0.03}), 0.0003});
  for (int k = -1; k <= 1; ++k)
    section.regions.push_back(
        {"turn." + std::to_string(k + 2), Disc{{0.022, k * pitch}, 0.003, 0.0022}, 0.0002});
  return section;
}

// Property: a mesh is the same, bit for bit, whatever was meshed before.
TEST(KeptMeshes, DoNotDependOnWhatCameBefore) {
  const Sizing sizing;
  KeptMeshes fresh;
  const Mesh alone = fresh(coil(0.0104), sizing);
  KeptMeshes used;
  for (const double pitch : {0.0100, 0.0068, 0.0108, 0.013})
    static_cast<void>(used(coil(pitch), sizing));
  const Mesh after = used(coil(0.0104), sizing);
  EXPECT_EQ(alone.nodes, after.nodes);
  EXPECT_EQ(alone.triangles, after.triangles);
  EXPECT_EQ(alone.region, after.region);
}

// Property: a section whose shared base cannot be meshed has a mesh of its own.
TEST(KeptMeshes, FallBackOnAMeshOfTheirOwn) {
  // Two rings round the axis, the inner one so close that the base would push it over.
  Section section;
  section.regions.push_back({"turn.1", Disc{{0.00305, 0}, 0.003}, 0.0003});
  section.regions.push_back({"turn.2", Disc{{0.0101, 0}, 0.003}, 0.0003});
  KeptMeshes kept;
  const Sizing sizing;
  EXPECT_EQ(kept(section, sizing).nodes, generate_mesh(section, sizing).nodes);
}

// Property: what cannot be meshed at all is refused as ever.
TEST(KeptMeshes, RefuseWhatCannotBeMeshed) {
  Section section = coil(0.005);  // rings overlap
  KeptMeshes kept;
  EXPECT_THROW(kept(section, {}), MeshError);
}

}  // namespace
}  // namespace cw::cases
