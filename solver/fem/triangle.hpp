#pragma once

#include <array>
#include <optional>

#include "mesh/mesh.hpp"
#include "solver/fem/forms.hpp"

namespace cw {

/// Corners of one second-order triangle, then the nodes of edges 01, 12, 20.
using TrianglePoints = std::array<Point, 6>;
/// Their reference coordinates.
inline constexpr std::array<std::array<double, 2>, 6> node_places = {
    {{0.0, 0.0}, {1.0, 0.0}, {0.0, 1.0}, {0.5, 0.0}, {0.5, 0.5}, {0.0, 0.5}}};

/// Shape functions of the second-order triangle at reference coordinates (x, y): corner 0 at the
/// origin.
Eigen::Vector<double, 6> shape_values(double x, double y);
/// Rows d/dx, d/dy of the same.
Eigen::Matrix<double, 2, 6> shape_gradients(double x, double y);

/// One triangle, straight or curved, for many points in it.
class TriangleMap {
 public:
  explicit TriangleMap(const TrianglePoints& points);

  [[nodiscard]] const TrianglePoints& points() const { return points_; }
  [[nodiscard]] bool straight() const { return straight_; }
  /// At reference coordinates (x, y), with quadrature weight `weight` (the weights sum to 1/2).
  [[nodiscard]] Sample<6> at(double x, double y, double weight) const;
  /// At a node of TriangleRule.
  [[nodiscard]] Sample<6> at(std::size_t node) const;
  /// Reference coordinates of a point, by Newton's method if an edge is curved; empty outside. A
  /// point on an edge belongs to at least one of its triangles.
  [[nodiscard]] std::optional<std::array<double, 2>> reference_of(Point place) const;

 private:
  TrianglePoints points_;
  bool straight_;
  Point across_, up_;        ///< edges 01 and 02
  double det_;               ///< of the straight triangle [m^2]
  Eigen::Matrix2d inverse_;  ///< of its Jacobian, rows d/dr, d/dz
};

/// TriangleMap::at() for one point.
Sample<6> sample_at(const TrianglePoints& points, double x, double y, double weight);

/// Reference points and weights of the 12-point rule, exact to degree 6, all points inside.
/// Source: D. A. Dunavant, Int. J. Numer. Meth. Engng 21 (1985) 1129, degree 6 (digits from memory,
/// checked by test).
struct TriangleRule {
  struct Node {
    double x, y, weight;
  };
  static const std::array<Node, 12>& nodes();
};

/// Shape functions at a node of TriangleRule.
const Eigen::Vector<double, 6>& rule_shape(std::size_t node);

using TriangleSamples = std::array<Sample<6>, 12>;
TriangleSamples triangle_samples(const TrianglePoints& points);

/// The point at which a sample of a triangle was taken.
Point place_of(const Sample<6>& plain, const TrianglePoints& points);

/// The six points of triangle `t`.
TrianglePoints triangle_points(const Mesh& mesh, std::size_t t);

/// Sum of integrand(sample) over the triangles of a region.
template <class Integrand>
double sum_over(const Mesh& mesh, RegionId region, const Integrand& integrand) {
  double sum = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    if (mesh.region[t] == region)
      for (const auto& s : triangle_samples(triangle_points(mesh, t))) sum += integrand(s);
  return sum;
}

/// A point, given by its triangle and its reference coordinates.
struct PlaceInMesh {
  std::size_t triangle;
  double x, y;
};

/// The triangle and reference coordinates of `place`; empty outside the mesh. On an edge: the first
/// of its triangles.
std::optional<PlaceInMesh> find_place(const Mesh& mesh, Point place);

}  // namespace cw
