#include "solver/field/eddy_system.hpp"

#include <algorithm>
#include <cassert>

namespace cw {

namespace {

std::vector<char> fixed_nodes(const Mesh& mesh, const BorderConditions& border) {
  std::vector<char> fixed(mesh.nodes.size(), 0);
  for (const BorderEdge& e : mesh.border) {
    const bool zero = e.side == Side::axis || (e.side == Side::outer && border.zero_on_outer) ||
                      (e.side == Side::top && border.zero_on_top) ||
                      (e.side == Side::bottom && border.zero_on_bottom);
    if (zero) fixed[e.from] = fixed[e.middle] = fixed[e.to] = 1;
  }
  return fixed;
}

std::vector<int> unknowns_of(const std::vector<int>& nodes, const Dofs& dofs) {
  std::vector<int> result;
  result.reserve(nodes.size());
  for (const int node : nodes) result.push_back(dofs.of_node[node]);
  return result;
}

/// y = S x for the symmetric matrix given by its lower triangle.
Eigen::MatrixXcd matrix_times(const Pattern& p, const std::vector<double>& values,
                              const Eigen::MatrixXcd& x) {
  Eigen::MatrixXcd y = Eigen::MatrixXcd::Zero(x.rows(), x.cols());
  for (int column = 0; column < p.size; ++column)
    for (int k = p.column_start[column]; k < p.column_start[column + 1]; ++k) {
      y.row(p.row[k]) += values[k] * x.row(column);
      if (p.row[k] != column) y.row(column) += values[k] * x.row(p.row[k]);
    }
  return y;
}

std::shared_ptr<const SystemShape> shape_of(const Mesh& mesh, const BorderConditions& border,
                                            const OpenBoundary& open) {
  auto shape = std::make_shared<SystemShape>();
  shape->dofs = number_dofs(mesh, fixed_nodes(mesh, border), open.nodes());
  shape->pattern = make_pattern(mesh, shape->dofs, unknowns_of(open.nodes(), shape->dofs));
  shape->tree = std::make_shared<FrontTree>(shape->pattern);
  return shape;
}

}  // namespace

EddySystem::EddySystem(const Mesh& mesh, Media media, const BorderConditions& border)
    : mesh_(mesh),
      media_(std::move(media)),
      open_(mesh),
      shape_(shape_of(mesh, border, open_)),
      factorisation_(shape_->tree) {
  assemble_stiffness();
  assemble_mass();
}

EddySystem::EddySystem(const Mesh& mesh, Media media, std::shared_ptr<const SystemShape> shape)
    : mesh_(mesh),
      media_(std::move(media)),
      open_(mesh),
      shape_(std::move(shape)),
      factorisation_(shape_->tree) {
  assert(pattern().of_triangle.size() == mesh.triangles.size());
  assemble_stiffness();
  assemble_mass();
}

void EddySystem::set_media(Media media) {
  const bool same_stiffness =
      local_.of_triangle.empty() &&
      std::ranges::equal(media_, media, {}, &Medium::reluctivity, &Medium::reluctivity);
  media_ = std::move(media);
  local_ = {};
  if (!same_stiffness) assemble_stiffness();
  assemble_mass();
}

void EddySystem::set_local(LocalMedia local) {
  local_ = std::move(local);
  assemble_stiffness();
  assemble_mass();
}

void EddySystem::assemble_stiffness() {
  assert(media_.size() == mesh_.region_name.size());
  assemble<Reluctance>(
      mesh_, pattern(),
      [this](std::size_t t, std::size_t q) { return medium_at(t, q).reluctivity; }, stiffness_);
  if (open_.present()) scatter_clique(pattern(), open_.stiffness(), stiffness_);
}

void EddySystem::assemble_mass() {
  assemble<EddyConductance>(
      mesh_, pattern(),
      [this](std::size_t t, std::size_t q) { return medium_at(t, q).conductivity; }, mass_);
}

void EddySystem::factorise(Frequency f) {
  factorisation_.compute(stiffness_, mass_, f.omega());
  frequency_ = f;
}

Eigen::MatrixXcd EddySystem::apply_stiffness(const Eigen::MatrixXcd& x) const {
  return matrix_times(pattern(), stiffness_, x);
}

Eigen::MatrixXcd EddySystem::apply_mass(const Eigen::MatrixXcd& x) const {
  return matrix_times(pattern(), mass_, x);
}

Eigen::VectorXcd EddySystem::to_nodes(const Eigen::VectorXcd& unknowns) const {
  Eigen::VectorXcd nodes = Eigen::VectorXcd::Zero(static_cast<Eigen::Index>(mesh_.nodes.size()));
  for (std::size_t i = 0; i < mesh_.nodes.size(); ++i)
    if (dofs().of_node[i] >= 0) nodes[i] = unknowns[dofs().of_node[i]];
  return nodes;
}

Eigen::VectorXcd EddySystem::to_unknowns(const Eigen::VectorXcd& nodes) const {
  Eigen::VectorXcd unknowns(dofs().count);
  for (std::size_t i = 0; i < mesh_.nodes.size(); ++i)
    if (dofs().of_node[i] >= 0) unknowns[dofs().of_node[i]] = nodes[i];
  return unknowns;
}

}  // namespace cw
