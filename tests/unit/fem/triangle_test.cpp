#include "solver/fem/triangle.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace cw {
namespace {

const TrianglePoints straight{
    {{.01, 0}, {.03, .005}, {.015, .02}, {.02, .0025}, {.0225, .0125}, {.0125, .01}}};

double factorial(int n) {
  return std::tgamma(n + 1.0);
}

// The rule integrates every monomial to degree 6 exactly, and one of degree 7 not: p! q!/(p + q +
// 2)!.
TEST(TriangleRule, IsExactToDegreeSix) {
  double worst_of_seven = 0;
  for (int p = 0; p <= 7; ++p)
    for (int q = 0; p + q <= 7; ++q) {
      double sum = 0;
      for (const auto& n : TriangleRule::nodes())
        sum += n.weight * std::pow(n.x, p) * std::pow(n.y, q);
      const double exact = factorial(p) * factorial(q) / factorial(p + q + 2);
      if (p + q <= 6) {
        EXPECT_NEAR(sum, exact, 2e-15) << p << " " << q;
      } else {
        worst_of_seven = std::max(worst_of_seven, std::abs(sum / exact - 1));
      }
    }
  EXPECT_GT(worst_of_seven, 1e-6);
}

// Shape functions are 1 at their own node and 0 at the others, and add up to 1 with no slope.
TEST(TriangleShapes, AreNodalAndAddUpToOne) {
  constexpr double nodes[6][2] = {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}};
  for (int i = 0; i < 6; ++i) {
    const auto n = shape_values(nodes[i][0], nodes[i][1]);
    for (int j = 0; j < 6; ++j) EXPECT_NEAR(n[j], i == j ? 1 : 0, 1e-15);
  }
  for (const auto& q : TriangleRule::nodes()) {
    EXPECT_NEAR(shape_values(q.x, q.y).sum(), 1, 1e-14);
    EXPECT_NEAR(shape_gradients(q.x, q.y).rowwise().sum().norm(), 0, 1e-13);
  }
}

// Slopes agree with differences of the values.
TEST(TriangleShapes, SlopesAreDifferencesOfValues) {
  constexpr double h = 1e-6;
  for (const auto& q : TriangleRule::nodes()) {
    const auto g = shape_gradients(q.x, q.y);
    const Eigen::Vector<double, 6> dx =
        (shape_values(q.x + h, q.y) - shape_values(q.x - h, q.y)) / (2 * h);
    const Eigen::Vector<double, 6> dy =
        (shape_values(q.x, q.y + h) - shape_values(q.x, q.y - h)) / (2 * h);
    EXPECT_LT((g.row(0).transpose() - dx).norm() + (g.row(1).transpose() - dy).norm(), 1e-8);
  }
}

// On a curved triangle the slope of the coordinate functions is still exactly (1, 0) and (0, 1).
TEST(TriangleSamples, CoordinatesHaveUnitSlopeOnCurvedTriangles) {
  TrianglePoints curved = straight;
  curved[4] = curved[4] + Point{.001, .001};
  double area = 0;
  for (const auto& s : triangle_samples(curved)) {
    Eigen::Vector2d slope_r = Eigen::Vector2d::Zero(), slope_z = slope_r;
    double radius = 0;
    for (int i = 0; i < 6; ++i) {
      slope_r += s.gradient.col(i) * curved[i].r;
      slope_z += s.gradient.col(i) * curved[i].z;
      radius += s.value[i] * curved[i].r;
    }
    EXPECT_LT((slope_r - Eigen::Vector2d{1, 0}).norm() + (slope_z - Eigen::Vector2d{0, 1}).norm(),
              1e-12);
    EXPECT_NEAR(s.radius, radius, 1e-16);
    area += s.area;
  }
  // A parabola of height h over a chord c adds 2/3 c h.
  const double chord = distance(curved[1], curved[2]);
  const Point along = (1 / chord) * (curved[2] - curved[1]);
  const double height = along.z * .001 - along.r * .001;
  const double flat = 0.5 * ((.02 * .02) - (.005 * .005));
  EXPECT_NEAR(area, flat + 2.0 / 3 * chord * height, 1e-9 * flat);
}

// A place in a curved triangle is found at its reference coordinates, to rounding; one beside it is
// not in it.
TEST(ReferencePoint, IsFoundInCurvedTriangles) {
  TrianglePoints curved = straight;
  curved[4] = curved[4] + Point{.001, .001};
  const auto place = [&](double x, double y) {
    const auto n = shape_values(x, y);
    Point p;
    for (int i = 0; i < 6; ++i) p = p + n[i] * curved[i];
    return p;
  };
  for (const auto& q : TriangleRule::nodes()) {
    const auto found = TriangleMap(curved).reference_of(place(q.x, q.y));
    ASSERT_TRUE(found);
    EXPECT_NEAR((*found)[0], q.x, 1e-12);
    EXPECT_NEAR((*found)[1], q.y, 1e-12);
  }
  EXPECT_FALSE(TriangleMap(curved).reference_of(place(0.55, 0.5)));
  EXPECT_FALSE(TriangleMap(curved).reference_of(place(-0.05, 0.5)));
  EXPECT_FALSE(TriangleMap(curved).reference_of({1.0, 1.0}));
}

// Every point is found in a triangle that contains it, also where a curved side extends beyond the
// box of its nodes; points outside are in none.
TEST(FindPlace, TellsTheTriangleAndThePointInIt) {
  Mesh mesh;
  mesh.nodes = {{0, 0}, {2, 0}, {2.6, 2}, {0, 2}, {1, 0}, {2.7, 1}, {1.3, 1}, {1.3, 2}, {0, 1}};
  // The right side bulges to r = 2.75625 at z = 1.375, beyond its nodes.
  mesh.triangles = {{0, 1, 2, 4, 5, 6}, {0, 2, 3, 6, 7, 8}};
  for (const Point p : {Point{1.5, .5}, {.5, 1.5}, {2.6, 1.1}, {2.755, 1.375}, {2.6, 2}, {0, 0}}) {
    const auto at = find_place(mesh, p);
    ASSERT_TRUE(at) << p.r << " " << p.z;
    const auto n = shape_values(at->x, at->y);
    Point back;
    for (int i = 0; i < 6; ++i)
      back = back + n[i] * mesh.nodes[mesh.triangles[at->triangle][static_cast<std::size_t>(i)]];
    EXPECT_LT(distance(back, p), 1e-12) << p.r << " " << p.z;
  }
  EXPECT_EQ(find_place(mesh, {1.5, .5})->triangle, 0U);
  EXPECT_EQ(find_place(mesh, {.5, 1.5})->triangle, 1U);
  for (const Point p : {Point{2.758, 1.375}, {2.6, .5}, {-.01, 1}, {1, 2.01}, {1e3, 0}})
    EXPECT_FALSE(find_place(mesh, p)) << p.r << " " << p.z;
}

}  // namespace
}  // namespace cw
