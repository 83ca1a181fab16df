#include "solver/coupled/load_slices.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

/// Two bars of 24 mm beside each other, region 1 inside region 2.
class TwoBars : public testing::Test {
 protected:
  /// The unknown of a body's corner.
  [[nodiscard]] Eigen::Index corner(RegionId body, double r, double z) const {
    for (const auto& [place, unknown] : thermal_.unknown_of)
      if (place.second == body && std::abs(thermal_.at[unknown].r - r) < 1e-9 &&
          std::abs(thermal_.at[unknown].z - z) < 1e-9)
        return unknown;
    throw std::logic_error("no such corner");
  }
  /// How far 1 W in one place is from 1 W in another, over 2 W.
  [[nodiscard]] double moved(Eigen::Index from, Eigen::Index to) const {
    Eigen::VectorXd a = Eigen::VectorXd::Zero(thermal_.unknowns()), b = a;
    a[from] = 1.0;
    b[to] = 1.0;
    return LoadSlices(thermal_).distance(a, b, 2.0);
  }

  Mesh mesh_ =
      grid_mesh(steps(0, 8e-3, 4), steps(0, 24e-3, 12), [](Point p) { return p.r < 4e-3 ? 1 : 2; });
  ThermalMesh thermal_ = make_thermal_mesh(
      mesh_, {{1, plain_material(50, 7800, 460)}, {2, plain_material(50, 7800, 460)}},
      {{1, 2, 1000.0}});
};

// Heat levels itself out across a slice, so power may move across the axis; from slice to slice
// and from body to body it may not, and the last slice has the top in it.
TEST_F(TwoBars, PowerMayMoveAcrossASliceOnly) {
  EXPECT_EQ(moved(corner(1, 0, 4e-3), corner(1, 4e-3, 4e-3)), 0.0);
  EXPECT_EQ(moved(corner(1, 0, 22e-3), corner(1, 0, 24e-3)), 0.0);
  EXPECT_EQ(moved(corner(1, 0, 4e-3), corner(1, 0, 6e-3)), 0.5);
  EXPECT_EQ(moved(corner(1, 4e-3, 4e-3), corner(2, 4e-3, 4e-3)), 0.5);
  EXPECT_EQ(moved(corner(1, 0, 24e-3), corner(2, 8e-3, 0)), 0.5);
}

// Power more than before counts in full.
TEST_F(TwoBars, MorePowerCountsInFull) {
  const Eigen::VectorXd a = Eigen::VectorXd::Constant(thermal_.unknowns(), 0.1);
  EXPECT_NEAR(LoadSlices(thermal_).distance(1.2 * a, a, a.sum()), 0.2, 1e-12);
  EXPECT_EQ(LoadSlices(thermal_).distance(1.2 * a, a, 0.0), 0.0);
}

}  // namespace
}  // namespace cw
