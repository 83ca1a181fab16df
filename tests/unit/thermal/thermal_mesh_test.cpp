// Bodies of a mesh with unknowns of their own.
#include "solver/thermal/thermal_mesh.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <stdexcept>

#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

/// Core (1) to 10 mm, sleeve (2) to 20 mm, air beyond it.
Mesh core_and_sleeve() {
  return grid_mesh(steps(0, .03, 6), steps(0, .02, 4), [](Point p) {
    return p.r < .01 ? 1 : p.r < .02 ? 2 : 0;
  });
}

std::vector<ThermalBody> both() {
  return {{1, plain_material(50, 7800, 500)}, {2, plain_material(1, 2000, 800)}};
}

// Normals of surfaces have length one and point out of the body.
TEST(ThermalMesh, NormalsPointOutwards) {
  const ThermalMesh mesh = make_thermal_mesh(core_and_sleeve(), both(), {});
  ASSERT_FALSE(mesh.surface.empty());
  for (const SurfaceEdge& e : mesh.surface) {
    const Point middle = 0.5 * (e.at[0] + e.at[1]);
    const Point out = middle.r > .0199 ? Point{1, 0} : Point{0, middle.z > .01 ? 1. : -1.};
    EXPECT_LT(distance(e.normal, out), 1e-12) << middle.r << " " << middle.z;
  }
}

// Bonded bodies share the nodes of their interface, others have each its own, tied by the contact.
TEST(ThermalMesh, NodesOfAnInterface) {
  const Mesh mesh = core_and_sleeve();
  const ThermalMesh bonded = make_thermal_mesh(mesh, both(), {});
  const ThermalMesh loose = make_thermal_mesh(mesh, both(), {{1, 2, 1000}});
  EXPECT_EQ(loose.unknowns(), bonded.unknowns() + 9);
  EXPECT_EQ(bonded.contacts.size(), 0U);
  ASSERT_EQ(loose.contacts.size(), 4U);
  for (const ContactEdge& c : loose.contacts)
    for (int i = 0; i < 3; ++i) {
      EXPECT_NE(c.one[i], c.other[i]);
      EXPECT_EQ(loose.at[c.one[i]], loose.at[c.other[i]]);
      EXPECT_NEAR(loose.at[c.one[i]].r, .01, 1e-12);
    }
}

// A contact of zero conductance insulates: separate nodes without exchange.
TEST(ThermalMesh, InsulatingContact) {
  EXPECT_TRUE(make_thermal_mesh(core_and_sleeve(), both(), {{1, 2, 0}}).contacts.empty());
}

// The unknowns' volumes are those of the bodies, every one positive.
TEST(ThermalMesh, Volumes) {
  const ThermalMesh mesh = make_thermal_mesh(core_and_sleeve(), both(), {});
  EXPECT_NEAR(mesh.volume.sum(), volume_of_cylinder(.02, .02), 1e-12 * mesh.volume.sum());
  EXPECT_GT(mesh.volume.minCoeff(), 0);
}

// Surfaces are found by the way they look, have the areas of a cylinder, and end at the axis.
TEST(ThermalMesh, Surfaces) {
  const ThermalMesh mesh = make_thermal_mesh(core_and_sleeve(), both(), {});
  using std::numbers::pi;
  const auto area = [&mesh](RegionId id, Facing f) {
    return surface_area(mesh, surface_of(mesh, id, f));
  };
  EXPECT_NEAR(area(1, Facing::outward), 0, 1e-15);
  EXPECT_NEAR(area(1, Facing::inward), 0, 1e-15);
  EXPECT_NEAR(area(1, Facing::up), pi * 1e-4, 1e-15);
  EXPECT_NEAR(area(2, Facing::outward), 2 * pi * .02 * .02, 1e-15);
  EXPECT_NEAR(area(2, Facing::down), pi * 3e-4, 1e-15);
  for (const int e : surface_of(mesh, 2, Facing::outward)) EXPECT_EQ(mesh.surface[e].beyond, 0);
  for (const int e : surface_of(mesh, 2, Facing::up)) EXPECT_EQ(mesh.surface[e].beyond, -1);
}

// If the sleeve is left out, the core's wall is a surface.
TEST(ThermalMesh, RegionsLeftOut) {
  const ThermalMesh mesh = make_thermal_mesh(core_and_sleeve(), {both().front()}, {});
  EXPECT_NEAR(surface_area(mesh, surface_of(mesh, 1, Facing::outward)), 2 * std::numbers::pi * 2e-4,
              1e-15);
}

// Contacts and bodies that cannot be are refused.
TEST(ThermalMesh, Refusals) {
  const Mesh mesh = core_and_sleeve();
  EXPECT_THROW(make_thermal_mesh(mesh, {{7, {}}}, {}), std::invalid_argument);
  EXPECT_THROW(make_thermal_mesh(mesh, both(), {{1, 1, 10}}), std::invalid_argument);
  EXPECT_THROW(make_thermal_mesh(mesh, both(), {{1, 2, -1}}), std::invalid_argument);
  EXPECT_THROW(make_thermal_mesh(mesh, {both()[0], both()[0]}, {}), std::invalid_argument);
}

}  // namespace
}  // namespace cw
