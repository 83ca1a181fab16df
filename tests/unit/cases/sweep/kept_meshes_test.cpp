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

/// Air, a bar of brass, tubes of copper.
Media media_of(const Section& section) {
  Media media(section.regions.size() + 1, Medium{5.8e7});
  media[0] = {};
  media[1] = {1.6e7};
  return media;
}

Mesh meshed(KeptMeshes& kept, const Section& section, const Sizing& sizing) {
  return *kept(section, sizing, media_of(section)).mesh;
}

// Property: a mesh is the same, bit for bit, whatever was meshed before.
TEST(KeptMeshes, DoNotDependOnWhatCameBefore) {
  const Sizing sizing;
  KeptMeshes fresh;
  const Mesh alone = meshed(fresh, coil(0.0104), sizing);
  KeptMeshes used;
  for (const double pitch : {0.0100, 0.0068, 0.0108, 0.013})
    static_cast<void>(meshed(used, coil(pitch), sizing));
  const Mesh after = meshed(used, coil(0.0104), sizing);
  EXPECT_EQ(alone.nodes, after.nodes);
  EXPECT_EQ(alone.triangles, after.triangles);
  EXPECT_EQ(alone.region, after.region);
}

// Property: a system with the shape of another solves as one of its own does.
TEST(KeptMeshes, ShareTheShapeOfTheirSystems) {
  KeptMeshes kept;
  const Sizing sizing;
  const Section first = coil(0.0104), second = coil(0.0108);
  static_cast<void>(kept(first, sizing, media_of(first)));
  const MeshedSystem made = kept(second, sizing, media_of(second));
  ASSERT_EQ(made.system->shape(), kept(first, sizing, media_of(first)).system->shape());
  EddySystem own(*made.mesh, media_of(second));
  own.factorise({20e3});
  made.system->factorise({20e3});
  const Eigen::MatrixXcd rhs = Eigen::MatrixXcd::Ones(own.unknowns(), 1);
  EXPECT_EQ(made.system->solve(rhs), own.solve(rhs));
}

// Property: a section whose shared base cannot be meshed gets a mesh of its own.
TEST(KeptMeshes, FallBackOnAMeshOfTheirOwn) {
  // Two rings round the axis, the inner one so close that the base would push it over.
  Section section;
  section.regions.push_back({"turn.1", Disc{{0.00305, 0}, 0.003}, 0.0003});
  section.regions.push_back({"turn.2", Disc{{0.0101, 0}, 0.003}, 0.0003});
  KeptMeshes kept;
  const Sizing sizing;
  EXPECT_EQ(meshed(kept, section, sizing).nodes, generate_mesh(section, sizing).nodes);
}

// Property: a section that cannot be meshed at all is refused as usual.
TEST(KeptMeshes, RefuseWhatCannotBeMeshed) {
  Section section = coil(0.005);  // rings overlap
  KeptMeshes kept;
  EXPECT_THROW(kept(section, {}, media_of(section)), MeshError);
}

}  // namespace
}  // namespace cw::cases
