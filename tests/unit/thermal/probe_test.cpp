// Where a temperature is read.
#include "solver/thermal/probe.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "tests/unit/thermal/rod_mesh.hpp"

namespace cw {
namespace {

/// A tube of 4 and 8 mm radius from -20 to 20 mm, 500 K in the middle of the axis and warmer
/// upwards and outwards by 5 K/mm and 2 K/mm.
class Readings : public testing::Test {
 protected:
  [[nodiscard]] double read(ProbeKind kind, double low, double high) const {
    Eigen::VectorXd kelvin(model_.mesh().unknowns());
    for (int i = 0; i < model_.mesh().unknowns(); ++i) {
      const Point at = model_.mesh().at[i];
      kelvin[i] = 500 + 5e3 * at.z + 2e3 * at.r;
    }
    return ProbeSite(model_, {kind, 1, low, high}).read(kelvin);
  }

  Mesh mesh_ = rod_mesh(steps(4e-3, 8e-3, 4), steps(-20e-3, 20e-3, 8));
  ThermalModel model_{make_thermal_mesh(mesh_, {{1, plain_material(50, 7800, 460)}}, {}), {}};
};

// On surface and innermost wall half-way up the stretch, above and below the middle of the body,
// between nodes too.
TEST_F(Readings, StandHalfWayUpTheStretch) {
  for (const double middle : {-12.5e-3, -7.9e-3, 0.0, 1.1e-3, 14.4e-3}) {
    const double low = middle - 3e-3, high = middle + 3e-3;
    EXPECT_NEAR(read(ProbeKind::surface, low, high), 500 + 5e3 * middle + 16, 1e-9) << middle;
    EXPECT_NEAR(read(ProbeKind::centre, low, high), 500 + 5e3 * middle + 8, 1e-9) << middle;
  }
  EXPECT_NEAR(read(ProbeKind::surface, -1e9, 1e9), 516, 1e-9);
}

// Between surface and innermost wall a depth counts from the surface; a linear temperature is exact
// at every depth; beyond the wall there is no reading.
TEST_F(Readings, OfADepthLieBelowTheSurface) {
  const auto at_depth = [&](double depth) {
    Eigen::VectorXd kelvin(model_.mesh().unknowns());
    for (int i = 0; i < model_.mesh().unknowns(); ++i)
      kelvin[i] = 500 + 5e3 * model_.mesh().at[i].z + 2e3 * model_.mesh().at[i].r;
    return ProbeSite(model_, {ProbeKind::depth, 1, -10e-3, 15e-3, depth}).read(kelvin);
  };
  for (const double depth : {0.1e-3, 1e-3, 2.3e-3, 3.9e-3})
    EXPECT_NEAR(at_depth(depth), 500 + 12.5 + 16 - 2e3 * depth, 1e-9) << depth;
  EXPECT_THROW(at_depth(4.1e-3), std::invalid_argument);
}

// Extremes are those within the stretch; the mean is that of the volume: of a tube
// 2/3 (b^3 - a^3)/(b^2 - a^2) in the radius.
TEST_F(Readings, ExtremesAndMeanOverTheStretch) {
  EXPECT_NEAR(read(ProbeKind::coldest, -1e9, 1e9), 500 - 100 + 8, 1e-9);
  EXPECT_NEAR(read(ProbeKind::hottest, -1e9, 1e9), 500 + 100 + 16, 1e-9);
  EXPECT_NEAR(read(ProbeKind::coldest, -10e-3, 5e-3), 500 - 50 + 8, 1e-9);
  EXPECT_NEAR(read(ProbeKind::hottest, -10e-3, 5e-3), 500 + 25 + 16, 1e-9);
  const double radius = 2.0 / 3 * (512.0 - 64) / (64 - 16);  // [mm]
  EXPECT_NEAR(read(ProbeKind::mean, -1e9, 1e9), 500 + 2 * radius, 0.05);
}

// The ends of a stretch need not be at nodes: a linear temperature is exact there, and its mean
// over the stretch is that half-way up.
TEST_F(Readings, EndBetweenNodes) {
  for (const auto& [low, high] : {std::pair{-11.3e-3, 4.1e-3}, {0.2e-3, 0.9e-3}}) {
    EXPECT_NEAR(read(ProbeKind::coldest, low, high), 500 + 5e3 * low + 8, 1e-9);
    EXPECT_NEAR(read(ProbeKind::hottest, low, high), 500 + 5e3 * high + 16, 1e-9);
    const double radius = 2.0 / 3 * (512.0 - 64) / (64 - 16);  // [mm]
    EXPECT_NEAR(read(ProbeKind::mean, low, high), 500 + 2.5e3 * (low + high) + 2 * radius, 0.01);
  }
}

// A stretch beside the body is refused.
TEST_F(Readings, BesideTheBodyAreRefused) {
  EXPECT_THROW((void)read(ProbeKind::mean, 30e-3, 40e-3), std::invalid_argument);
}

}  // namespace
}  // namespace cw
