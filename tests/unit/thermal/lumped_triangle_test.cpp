// The seven-node triangle with a lumped capacity.
#include "solver/thermal/lumped_triangle.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <numeric>

namespace cw {
namespace {

TrianglePoints straight(Point a, Point b, Point c) {
  return {a, b, c, .5 * (a + b), .5 * (b + c), .5 * (c + a)};
}

// Each shape function is one at its own node and zero at the others.
TEST(LumpedTriangle, Nodal) {
  const std::array<std::pair<double, double>, 7> at{
      {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}, {1. / 3, 1. / 3}}};
  for (int i = 0; i < 7; ++i) {
    const auto n = lumped_values(at[i].first, at[i].second);
    for (int j = 0; j < 7; ++j) EXPECT_NEAR(n[j], i == j ? 1 : 0, 1e-14);
  }
}

// The gradients are the slopes of the values.
TEST(LumpedTriangle, GradientsAreSlopes) {
  const double x = .23, y = .41, h = 1e-6;
  const auto g = lumped_gradients(x, y);
  const Eigen::Vector<double, 7> by_x =
      (lumped_values(x + h, y) - lumped_values(x - h, y)) / (2 * h);
  const Eigen::Vector<double, 7> by_y =
      (lumped_values(x, y + h) - lumped_values(x, y - h)) / (2 * h);
  EXPECT_LT((g.row(0).transpose() - by_x).norm(), 1e-8);
  EXPECT_LT((g.row(1).transpose() - by_y).norm(), 1e-8);
}

// Every node has volume, on the axis too, and together they have the triangle's: Pappus' theorem.
TEST(LumpedTriangle, VolumesArePositiveAndComplete) {
  for (const auto& points : {straight({0, 0}, {2, 0}, {0, 1}), straight({0, 1}, {3, 0}, {3, 1}),
                             straight({5, 0}, {6, 1}, {4, 3})}) {
    const LumpedTriangle t = lumped_triangle(points);
    double sum = 0;
    for (const double v : t.volume) {
      EXPECT_GT(v, 0);
      sum += v;
    }
    const Point a = points[1] - points[0], b = points[2] - points[0];
    const double area = .5 * std::abs(a.r * b.z - b.r * a.z);
    const double exact =
        2 * std::numbers::pi * area * (points[0].r + points[1].r + points[2].r) / 3;
    EXPECT_NEAR(sum, exact, 1e-12 * exact);
  }
}

// Off the axis the lumped volumes integrate r times any quadratic exactly: the rule is of degree 3.
TEST(LumpedTriangle, ExactForQuadratics) {
  const auto points = straight({5, 0}, {7, 1}, {4, 3});
  const LumpedTriangle t = lumped_triangle(points);
  const auto f = [](Point p) { return 1 + p.r - 2 * p.z + p.r * p.z - .3 * p.z * p.z; };
  double lumped = 0, exact = 0;
  for (int i = 0; i < 7; ++i) lumped += t.volume[i] * f(i < 6 ? points[i] : t.centre);
  for (std::size_t q = 0; q < 12; ++q) {
    const auto& s = t.samples[q];
    const auto& node = TriangleRule::nodes()[q];
    const auto n = shape_values(node.x, node.y);
    Point p;
    for (int i = 0; i < 6; ++i) p = p + n[i] * points[i];
    exact += 2 * std::numbers::pi * s.radius * s.area * f(p);
  }
  EXPECT_NEAR(lumped, exact, 1e-12 * std::abs(exact));
}

// A uniform power density warms all nodes alike, and any density keeps its total.
TEST(LumpedTriangle, LoadMatchesCapacity) {
  for (const auto& points : {straight({0, 0}, {2, 0}, {0, 1}), straight({0, 1}, {3, 0}, {3, 1}),
                             straight({5, 0}, {6, 1}, {4, 3})}) {
    const LumpedTriangle t = lumped_triangle(points);
    std::array<double, 12> density{};
    density.fill(7);
    const auto uniform = nodal_power(t, density);
    for (int i = 0; i < 7; ++i) EXPECT_NEAR(uniform[i], 7 * t.volume[i], 1e-12 * t.volume[6]);
    double total = 0;
    for (std::size_t q = 0; q < 12; ++q) {
      density[q] = 1 + static_cast<double>(q * q);
      total += density[q] * 2 * std::numbers::pi * t.samples[q].radius * t.samples[q].area;
    }
    const auto power = nodal_power(t, density);
    EXPECT_NEAR(std::accumulate(power.begin(), power.end(), 0.0), total, 1e-12 * total);
  }
}

}  // namespace
}  // namespace cw
