// The weight with which the potential is carried, and the functions made with it.
#include "solver/fem/potential.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "mesh/generate.hpp"

namespace cw {
namespace {

/// One triangle beside a core of 2 mm from z = -10 to 10 mm; `at` is its corner, `size` its sides.
Mesh one_triangle(Point at, double size) {
  Mesh mesh;
  const Point b = at + Point{size, 0}, c = at + Point{0, size};
  mesh.nodes = {at, b, c, 0.5 * (at + b), 0.5 * (b + c), 0.5 * (c + at)};
  mesh.vertices = 3;
  mesh.triangles = {{0, 1, 2, 3, 4, 5}};
  mesh.region = {0};
  mesh.cores = {{-.01, .01, .002}};
  return mesh;
}

// Beside the core the weight is the larger of both radii; its slopes are those of its values,
// beyond the ends too.
TEST(PotentialWeight, IsTheRadiusOutsideTheCore) {
  const Mesh mesh = one_triangle({.002, 0}, .001);
  EXPECT_DOUBLE_EQ(potential_weight(mesh, {.003, .004}).value, .003);
  EXPECT_DOUBLE_EQ(potential_weight(mesh, {.003, .004}).slope_r, 1.0);
  EXPECT_DOUBLE_EQ(potential_weight(mesh, {0, .004}).value, .002);
  EXPECT_DOUBLE_EQ(potential_weight(mesh, {.0015, .004}).slope_r, 0.0);
  constexpr double h = 1e-7;
  for (const Point p : {Point{.0007, 0}, Point{.001, .014}, Point{.005, -.02}, Point{.03, .03}}) {
    const auto w = potential_weight(mesh, p);
    EXPECT_NEAR(w.slope_r,
                (potential_weight(mesh, {p.r + h, p.z}).value -
                 potential_weight(mesh, {p.r - h, p.z}).value) /
                    (2 * h),
                1e-6);
    EXPECT_NEAR(w.slope_z,
                (potential_weight(mesh, {p.r, p.z + h}).value -
                 potential_weight(mesh, {p.r, p.z - h}).value) /
                    (2 * h),
                1e-6);
  }
}

// Beyond the ends the bend fades: at d = 3 mm the weight on the axis is (2 + sqrt(2^2 + 3^2))/2 mm,
// and at the radius of the core 3/2 mm more than that.
TEST(PotentialWeight, FadesBeyondTheBody) {
  const Mesh mesh = one_triangle({.002, 0}, .001);
  EXPECT_NEAR(potential_weight(mesh, {0, .013}).value, 0.5 * (.002 + std::sqrt(13e-6)), 1e-15);
  EXPECT_NEAR(potential_weight(mesh, {0, -.013}).value, 0.5 * (.002 + std::sqrt(13e-6)), 1e-15);
  EXPECT_NEAR(potential_weight(mesh, {.002, .013}).value, .002 + .0015, 1e-15);
}

// Without cores there is no weight; of two the least counts.
TEST(PotentialWeight, IsTheLeastOfSeveral) {
  Mesh mesh = one_triangle({.002, 0}, .001);
  mesh.cores.push_back({.02, .03, .001});
  EXPECT_DOUBLE_EQ(potential_weight(mesh, {0, 0}).value, .002);
  EXPECT_DOUBLE_EQ(potential_weight(mesh, {0, .025}).value, .001);
  mesh.cores.clear();
  EXPECT_EQ(potential_weight(mesh, {.01, .02}).value, 1.0);
}

// At the kink a sample belongs to the side of its triangle: at a point of the surface, A has
// different slopes outside and inside.
TEST(PotentialSamples, KnowTheirSideOfTheBend) {
  const Mesh outside = one_triangle({.002, 0}, .001);
  Mesh inside = one_triangle({.001, 0}, .001);  // its second corner lies at 2 mm
  const Sample<6> out = potential_sample(outside, 0, 0, 0), in = potential_sample(inside, 0, 1, 0);
  const Sample<6> plain = sample_at(triangle_points(inside, 0), 1, 0, 0.0);
  EXPECT_TRUE(in.gradient.isApprox(plain.gradient, 1e-12));
  // N_0 w_0/w at its own node falls faster by 1/r.
  const Sample<6> bare = sample_at(triangle_points(outside, 0), 0, 0, 0.0);
  EXPECT_NEAR(out.gradient(0, 0), bare.gradient(0, 0) - 1 / .002, 1e-9);
}

// The field outside a thin rod, A = C/r + B r/2, is carried exactly by a triangle five times as
// long as the rod's radius: value, flux density and all. With A itself it would be off by much.
TEST(PotentialSamples, CarryTheFieldOutsideARodExactly) {
  Mesh mesh = one_triangle({.002, 0}, .01);
  const double c = 3e-6, b = .04;
  const auto potential = [&](double r) { return c / r + 0.5 * b * r; };
  const auto worst = [&](const Mesh& m) {
    double off = 0;
    for (const auto& s : potential_samples(m, 0)) {
      double a = 0, axial = 0;
      const auto flux = flux_operator(s);
      for (int i = 0; i < 6; ++i) {
        const double at_node = potential(m.nodes[static_cast<std::size_t>(i)].r);
        a += s.value[i] * at_node;
        axial += flux(1, i) * at_node;
      }
      off = std::max({off, std::abs(a / potential(s.radius) - 1), std::abs(axial / b - 1)});
    }
    return off;
  };
  EXPECT_LT(worst(mesh), 1e-12);
  mesh.cores.clear();
  EXPECT_GT(worst(mesh), 0.1);
}

// At its nodes each function is 1 at its own and 0 at the others, weighed or not.
TEST(PotentialSamples, AreOneAtTheirOwnNode) {
  const Mesh mesh = one_triangle({.0005, .012}, .004);
  constexpr std::array<std::array<double, 2>, 6> at{
      {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}}};
  for (int node = 0; node < 6; ++node) {
    const auto s = potential_sample(mesh, 0, at[static_cast<std::size_t>(node)][0],
                                    at[static_cast<std::size_t>(node)][1]);
    for (int i = 0; i < 6; ++i) EXPECT_NEAR(s.value[i], i == node ? 1.0 : 0.0, 1e-14);
  }
}

}  // namespace
}  // namespace cw
