#include "mesh/move_rings.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "mesh/generate.hpp"
#include "mesh/quality.hpp"

namespace cw {
namespace {

/// A bar and three tubes `pitch` apart.
Section coil(double pitch, double skin = 0.0003) {
  Section section;
  section.regions.push_back({"workpiece", rectangle({0, -0.03}, {0.012, 0.03}), skin});
  for (int k = -1; k <= 1; ++k)
    section.regions.push_back(
        {"turn." + std::to_string(k + 2), Disc{{0.022, k * pitch}, 0.003, 0.0022}, 0.0002});
  return section;
}

// Property: moved rings are true circles about their new centres, the bar is unchanged, and the
// mesh meets the quality requirements.
TEST(MoveRings, KeepsCirclesAndTheBar) {
  const Mesh before = generate_mesh(coil(0.010));
  const auto after = move_rings(before, coil(0.010), coil(0.0108));
  ASSERT_TRUE(after);
  EXPECT_NO_THROW(require_quality(*after));
  for (std::size_t t = 0; t < before.triangles.size(); ++t) {
    const RegionId region = before.region[t];
    if (region == 0) continue;
    for (const int node : before.triangles[t]) {
      const Point move = after->nodes[node] - before.nodes[node];
      EXPECT_NEAR(move.r, 0.0, 1e-15);
      EXPECT_NEAR(move.z, region == 1 ? 0.0 : (region - 3) * 0.0008, 1e-15);
    }
  }
}

// Property: sections for which a moved mesh is unsuitable are refused: other sizes, finer skins,
// gaps far wider or narrower, another number of turns.
TEST(MoveRings, RefusesWhatItCannotServe) {
  const Section section = coil(0.010);
  const Mesh mesh = generate_mesh(section);
  EXPECT_TRUE(move_rings(mesh, section, coil(0.010, 0.0005)));
  EXPECT_FALSE(move_rings(mesh, section, coil(0.010, 0.0002)));
  EXPECT_FALSE(move_rings(mesh, section, coil(0.010, 0.0009)));
  EXPECT_FALSE(move_rings(mesh, section, coil(0.013)));
  EXPECT_FALSE(move_rings(mesh, section, coil(0.0085)));
  Section other = coil(0.010);
  std::get<Disc>(other.regions[1].shape).radius = 0.0031;
  EXPECT_FALSE(move_rings(mesh, section, other));
  other = coil(0.010);
  other.regions.pop_back();
  EXPECT_FALSE(move_rings(mesh, section, other));
}

// Property: neighbours share a base, which is its own; from it every pitch is served, and skin
// depths that grow by half; the middle of the row stays.
TEST(MoveRings, NeighboursShareABase) {
  const Section base = shared_base(coil(0.0104));
  const auto centre = [](const Section& section, std::size_t turn) {
    return std::get<Disc>(section.regions[turn].shape).centre;
  };
  for (std::size_t turn = 1; turn <= 3; ++turn) {
    EXPECT_LT(distance(centre(base, turn), centre(shared_base(coil(0.0108)), turn)), 1e-12);
    EXPECT_LT(distance(centre(base, turn), centre(shared_base(base), turn)), 1e-12);
  }
  EXPECT_NEAR(centre(base, 2).z, 0.0, 1e-15);
  EXPECT_GT(distance(centre(base, 1), centre(shared_base(coil(0.014)), 1)), 1e-3);
  for (const double pitch : {0.0068, 0.0075, 0.0085, 0.0095, 0.011, 0.013, 0.016})
    for (const double skin : {0.0002, 0.0003, 0.00045}) {
      const Section now = coil(pitch, skin), shared = shared_base(now);
      EXPECT_LE(shared.regions[0].skin_depth, skin);
      const auto moved = move_rings(generate_mesh(shared), shared, now);
      ASSERT_TRUE(moved) << pitch << " " << skin;
      EXPECT_NO_THROW(require_quality(*moved));
    }
}

}  // namespace
}  // namespace cw
