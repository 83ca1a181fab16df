#include "solver/run/body_values.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/unit/field/plain_box.hpp"

namespace cw {
namespace {

// In a bar in an even field, A = B r/2, heat per volume is sigma (w B r/2)^2: nothing on the axis,
// the most at the surface, half of that in the mean; a region without triangles has none.
TEST(PowerDensity, OfABarInAnEvenField) {
  const Mesh mesh = PlainBox::mesh();
  const double conductivity = 4e6, flux = 2e-3;  // [S/m], [T] rms
  FieldSolution field{
      {1e3}, {{}, {conductivity}}, Eigen::VectorXcd(mesh.nodes.size()), {0, 0}, {0, 0}};
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
    field.potential[static_cast<Eigen::Index>(i)] = 0.5 * flux * mesh.nodes[i].r;
  const double surface =
      conductivity * std::pow(field.frequency.omega() * flux * PlainBox::bar_radius / 2, 2);
  const PowerDensity density = power_density(mesh, field, PlainBox::bar);
  EXPECT_NEAR(density.lowest, 0.0, 1e-9 * surface);
  EXPECT_NEAR(density.highest, surface, 1e-9 * surface);
  EXPECT_NEAR(density.mean, 0.5 * surface, 1e-9 * surface);
  EXPECT_EQ(power_density(mesh, field, 7).highest, 0.0);
}

}  // namespace
}  // namespace cw
