#pragma once

#include "solver/fem/triangle.hpp"

namespace cw {

/// Interpolation of the potential A_phi between nodes: in each triangle w A is a polynomial of
/// second order, so the shape functions of the potential are N_i w_i / w. Beside a cylinder of
/// radius a (Mesh::cores)
/// of radius a (Mesh::cores)
///   w = max(r, a);   at the distance d beyond its ends  w = (r + a + sqrt((r - a)^2 + d^2)) / 2.
/// Outside a cylinder A is C/r + B r/2: a polynomial divided by r. With w = r a triangle that is
/// long compared with its radius, beside a thin rod in a wide coil, represents this exactly; with w
/// = 1 the second-order functions lost up to 60 % of the rod's power there. Inside the cylinder,
/// and beside bodies of other shapes, w = 1. The kink of w lies on sides of triangles, and fades
/// beyond the ends as fast as triangles grow. Of several cores the least w counts; without cores w
/// = 1.
struct PotentialWeight {
  double value = 1.0;                   ///< [m], or 1 without cores
  double slope_r = 0.0, slope_z = 0.0;  ///< dw/dr, dw/dz
};
PotentialWeight potential_weight(const Mesh& mesh, Point p);

/// Turns a sample of plain shape functions into one of shape functions of the potential; `at_node`
/// are the weights at their nodes.
template <int N>
Sample<N> weighed(Sample<N> s, const PotentialWeight& here,
                  const Eigen::Vector<double, N>& at_node) {
  const Eigen::Vector<double, N> share = at_node / here.value;
  s.gradient.row(0) -= (here.slope_r / here.value) * s.value.transpose();
  s.gradient.row(1) -= (here.slope_z / here.value) * s.value.transpose();
  s.gradient.array().rowwise() *= share.transpose().array();
  s.value.array() *= share.array();
  return s;
}

/// Weights at the six nodes of triangle `t`.
Eigen::Vector<double, 6> node_weights(const Mesh& mesh, std::size_t t);
/// Functions of the potential in triangle `t` at the nodes of TriangleRule.
TriangleSamples potential_samples(const Mesh& mesh, std::size_t t);
/// The same at any point of triangle `t`; what all its points share is computed once. The mesh must
/// outlive it.
class PotentialInTriangle {
 public:
  PotentialInTriangle(const Mesh& mesh, std::size_t t);
  /// At reference coordinates (x, y), without quadrature weight.
  [[nodiscard]] Sample<6> at(double x, double y) const;
  [[nodiscard]] const TrianglePoints& points() const { return map_.points(); }
  [[nodiscard]] const TriangleMap& map() const { return map_; }

 private:
  const Mesh& mesh_;
  TriangleMap map_;
  Eigen::Vector<double, 6> at_node_;
};
/// The same at one point.
Sample<6> potential_sample(const Mesh& mesh, std::size_t t, double x, double y);

}  // namespace cw
