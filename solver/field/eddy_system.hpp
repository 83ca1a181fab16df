#pragma once

#include <Eigen/Core>
#include <complex>
#include <memory>
#include <vector>

#include "solver/fem/factorisation.hpp"
#include "solver/fem/potential.hpp"
#include "solver/field/medium.hpp"
#include "solver/field/open_boundary.hpp"

namespace cw {

/// j of exp(+j omega t).
inline constexpr std::complex<double> imaginary_unit{0, 1};

/// Sides on which A = 0. Other sides are natural (no tangential H); the open circle borders on
/// empty space.
struct BorderConditions {
  bool zero_on_outer = true, zero_on_top = true, zero_on_bottom = true;  ///< of a Box domain
};

/// Data shared by the systems of all meshes with the same triangles and border, wherever their
/// nodes lie: numbering of unknowns, structure of the matrices and of their factors.
struct SystemShape {
  Dofs dofs;
  Pattern pattern;
  std::shared_ptr<const FrontTree> tree;
};

/// The discrete problem  (K + j w M) A = f  of one mesh:
///   curl(nu curl A) + j w sigma A = J,   A = A_phi, A = 0 on the axis.
/// Matrices carry the factor 2 pi r of the solid of revolution: x^T K x / 2 is energy in joule.
class EddySystem {
 public:
  EddySystem(const Mesh& mesh, Media media, const BorderConditions& border = {});
  /// With the shape of another system whose mesh has the same triangles and border and which has
  /// the same border conditions.
  EddySystem(const Mesh& mesh, Media media, std::shared_ptr<const SystemShape> shape);

  [[nodiscard]] const Mesh& mesh() const { return mesh_; }
  [[nodiscard]] const Media& media() const { return media_; }
  [[nodiscard]] const OpenBoundary& open() const { return open_; }
  [[nodiscard]] int unknowns() const { return shape_->dofs.count; }
  [[nodiscard]] const Dofs& dofs() const { return shape_->dofs; }
  [[nodiscard]] const Pattern& pattern() const { return shape_->pattern; }
  [[nodiscard]] const std::shared_ptr<const SystemShape>& shape() const { return shape_; }

  /// Sets other media for the same regions, uniform in each; factorise() has to follow.
  void set_media(Media media);
  /// Media that vary inside some bodies; factorise() has to follow.
  void set_local(LocalMedia local);
  /// Whether the region's medium applies everywhere in a triangle.
  [[nodiscard]] bool is_uniform(std::size_t triangle) const {
    return local_.of_triangle.empty() || local_.of_triangle[triangle] < 0;
  }
  /// The medium of a triangle at a node of TriangleRule.
  [[nodiscard]] const Medium& medium_at(std::size_t triangle, std::size_t node) const {
    const int local = local_.of_triangle.empty() ? -1 : local_.of_triangle[triangle];
    return local < 0 ? media_[mesh_.region[triangle]] : local_.at[local][node];
  }

  /// Prepares solve() for this frequency. Throws SolveError.
  void factorise(Frequency f);
  [[nodiscard]] Frequency frequency() const { return frequency_; }
  /// Solutions for right-hand sides over unknowns, one per column.
  [[nodiscard]] Eigen::MatrixXcd solve(const Eigen::MatrixXcd& rhs) const {
    return factorisation_.solve(rhs);
  }

  /// Products with K and M over unknowns.
  [[nodiscard]] Eigen::MatrixXcd apply_stiffness(const Eigen::MatrixXcd& x) const;
  [[nodiscard]] Eigen::MatrixXcd apply_mass(const Eigen::MatrixXcd& x) const;

  /// From unknowns to mesh nodes (zero where fixed) and back.
  [[nodiscard]] Eigen::VectorXcd to_nodes(const Eigen::VectorXcd& unknowns) const;
  [[nodiscard]] Eigen::VectorXcd to_unknowns(const Eigen::VectorXcd& nodes) const;

 private:
  void assemble_stiffness();
  void assemble_mass();

  const Mesh& mesh_;
  Media media_;
  LocalMedia local_;
  OpenBoundary open_;
  std::shared_ptr<const SystemShape> shape_;
  std::vector<double> stiffness_, mass_;
  Factorisation factorisation_;
  Frequency frequency_;
};

}  // namespace cw
