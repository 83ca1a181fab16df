#include "solver/field/saturating_system.hpp"

#include <algorithm>
#include <cassert>

namespace cw {

namespace {

using Complex = std::complex<double>;

/// Unknowns of the nodes of some regions, sorted, each once.
std::vector<int> unknowns_in(const EddySystem& base, const std::vector<RegionId>& regions) {
  std::vector<int> result;
  const Mesh& mesh = base.mesh();
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (std::find(regions.begin(), regions.end(), mesh.region[t]) == regions.end()) continue;
    for (const int node : mesh.triangles[t])
      if (base.dofs().of_node[node] >= 0) result.push_back(base.dofs().of_node[node]);
  }
  std::sort(result.begin(), result.end());
  result.erase(std::unique(result.begin(), result.end()), result.end());
  return result;
}

void append_unknown(Pattern& p, const std::vector<int>& coupled) {
  p.row.insert(p.row.end(), coupled.begin(), coupled.end());
  p.row.push_back(p.size++);
  p.column_start.push_back(static_cast<int>(p.row.size()));
}

Pattern pattern_with_coil(const EddySystem& base, const SeriesDrive* drive) {
  Pattern p = base.pattern();
  if (drive == nullptr || drive->turns.kind != TurnKind::massive) return p;
  for (const RegionId region : drive->turns.region) append_unknown(p, unknowns_in(base, {region}));
  return p;
}

}  // namespace

SaturatingSystem::SaturatingSystem(const EddySystem& base, std::vector<SaturatingRegion> bodies,
                                   Frequency f, const SeriesDrive* drive)
    : base_(base),
      bodies_(std::move(bodies)),
      frequency_(f),
      drive_(drive != nullptr ? std::optional(*drive) : std::nullopt),
      potentials_(base.unknowns()),
      pattern_(pattern_with_coil(base, drive)),
      factorisation_(pattern_) {
  make_cells();
  assemble_linear();
  if (drive_) join_coil();
  take_media();
}

void SaturatingSystem::renew(std::vector<SaturatingRegion> bodies, Frequency f,
                             const SeriesDrive& drive) {
  assert(bodies.size() == bodies_.size());
  bodies_ = std::move(bodies);
  take_media();
  move_to(f, drive);
}

void SaturatingSystem::move_to(Frequency f, const SeriesDrive& drive) {
  assert(drive_);
  frequency_ = f;
  drive_ = drive;
}

/// Properties of the bodies at every point, and the mass matrix that follows from them.
void SaturatingSystem::take_media() {
  mass_ = linear_mass_;
  for (SaturatingCell& cell : cells_) {
    const SaturatingRegion& body = bodies_[cell.body];
    const Medium& uniform = base_.media()[base_.mesh().region[cell.triangle]];
    cell.mass.setZero();
    cell.mean_magnetisation = 0.0;
    for (std::size_t q = 0; q < 12; ++q) {
      const auto& node = TriangleRule::nodes()[q];
      cell.medium[q] = medium_at(body, uniform, {cell.triangle, node.x, node.y, cell.at[q]});
      cell.mean_magnetisation += 2 * node.weight * cell.medium[q].magnetisation;
      cell.nu[q] = uniform.reluctivity;
      cell.slope[q] = 1.0;
      cell.mass += cell.medium[q].conductivity * cell.volume[q] *
                   (cell.value[q] * cell.value[q].transpose());
    }
    scatter(pattern_, cell.triangle, cell.mass, mass_);
  }
}

void SaturatingSystem::make_cells() {
  const Mesh& mesh = base_.mesh();
  std::vector<int> body_of(mesh.region_name.size(), -1);
  for (std::size_t b = 0; b < bodies_.size(); ++b) body_of[bodies_[b].region] = static_cast<int>(b);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const int body = body_of[mesh.region[t]];
    if (body < 0) continue;
    SaturatingCell cell{};
    cell.triangle = t;
    cell.body = static_cast<std::size_t>(body);
    for (int i = 0; i < 6; ++i) cell.dof[i] = base_.dofs().of_node[mesh.triangles[t][i]];
    const TrianglePoints points = triangle_points(mesh, t);
    const TriangleSamples samples = potential_samples(mesh, t);
    for (std::size_t q = 0; q < samples.size(); ++q) {
      for (int i = 0; i < 6; ++i) cell.at[q] = cell.at[q] + rule_shape(q)[i] * points[i];
      cell.flux[q] = flux_operator(samples[q]);
      cell.value[q] = samples[q].value;
      cell.volume[q] = samples[q].volume();
    }
    cells_.push_back(cell);
  }
}

void SaturatingSystem::assemble_linear() {
  const Mesh& mesh = base_.mesh();
  Media media = base_.media();
  for (const SaturatingRegion& body : bodies_) media[body.region] = {0.0, 0.0};
  const auto of = [&](double Medium::*property) {
    return [&, property](std::size_t t, std::size_t) { return media[mesh.region[t]].*property; };
  };
  assemble<Reluctance>(mesh, pattern_, of(&Medium::reluctivity), linear_);
  assemble<EddyConductance>(mesh, pattern_, of(&Medium::conductivity), linear_mass_);
  if (base_.open().present()) scatter_clique(pattern_, base_.open().stiffness(), linear_);
}

double SaturatingSystem::body_loss(const Eigen::VectorXcd& x) const {
  double sum = 0;
  for (const SaturatingCell& cell : cells_) {
    const CellValues a = cell_values(cell, x);
    for (int j = 0; j < 6; ++j)
      for (int i = 0; i < 6; ++i) sum += cell.mass(i, j) * (a[i] * a[j] + a[6 + i] * a[6 + j]);
  }
  return sum * frequency_.omega() * frequency_.omega();
}

void SaturatingSystem::set_uniform(const std::vector<double>& nu) {
  for (SaturatingCell& cell : cells_) {
    cell.nu.fill(nu[cell.body]);
    cell.slope.fill(1.0);
    cell.flux_density.fill(Eigen::Matrix2d::Zero());
  }
}

Eigen::VectorXcd SaturatingSystem::residual(const Eigen::VectorXcd& x, const Eigen::VectorXcd& f) {
  Eigen::VectorXcd r = -f;
  const double w = frequency_.omega();
  add_product(
      pattern_,
      [&](int k) {
        return Complex{linear_[k], w * mass_[k]};
      },
      x, r);
  for (SaturatingCell& cell : cells_)
    add_to(cell, evaluate(cell, bodies_[cell.body].law, cell_values(cell, x)), r);
  return r;
}

void SaturatingSystem::factorise() {
  std::vector<double> middle = linear_;
  factorised_nu_.resize(cells_.size());
  for (std::size_t c = 0; c < cells_.size(); ++c) {
    factorised_nu_[c] = middle_reluctivity(cells_[c]);
    scatter(pattern_, cells_[c].triangle, reluctance(cells_[c], factorised_nu_[c]), middle);
  }
  factorisation_.compute(middle, mass_, frequency_.omega());
  factorised_omega_ = frequency_.omega();
}

void SaturatingSystem::linearise() {
  remainder_.resize(cells_.size());
  for (std::size_t c = 0; c < cells_.size(); ++c)
    find_remainder(cells_[c], factorised_nu_[c], remainder_[c]);
}

Eigen::VectorXcd SaturatingSystem::remainder(const Eigen::VectorXcd& d) const {
  Eigen::VectorXcd y = Eigen::VectorXcd::Zero(d.size());
  const double w = frequency_.omega() - factorised_omega_;
  if (w != 0.0)
    add_product(
        pattern_,
        [&](int k) {
          return Complex{0.0, w * mass_[k]};
        },
        d, y);
  for (std::size_t c = 0; c < cells_.size(); ++c) add_remainder(cells_[c], remainder_[c], d, y);
  return y;
}

Eigen::VectorXcd SaturatingSystem::precondition(const Eigen::VectorXcd& r) const {
  return factorisation_.solve(r).col(0);
}

}  // namespace cw
