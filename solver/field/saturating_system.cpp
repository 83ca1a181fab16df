#include "solver/field/saturating_system.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace cw {

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2 * std::numbers::pi;

using Potentials = Eigen::Matrix<double, 6, 2>;  ///< columns real, imaginary

Potentials local(const SaturatingCell& cell, const Eigen::VectorXcd& x) {
  Potentials a = Potentials::Zero();
  for (int i = 0; i < 6; ++i)
    if (cell.dof[i] >= 0) a.row(i) << x[cell.dof[i]].real(), x[cell.dof[i]].imag();
  return a;
}

void add(const SaturatingCell& cell, const Potentials& y, Eigen::VectorXcd& into) {
  for (int i = 0; i < 6; ++i)
    if (cell.dof[i] >= 0) into[cell.dof[i]] += Complex{y(i, 0), y(i, 1)};
}

/// Unknowns of the nodes of some regions, sorted, without doubles.
std::vector<int> unknowns_of(const EddySystem& base, const std::vector<RegionId>& regions) {
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
  if (drive == nullptr) return p;
  const bool massive = drive->turns.kind == TurnKind::massive;
  std::vector<int> driven;
  if (massive) {
    for (const RegionId region : drive->turns.region) {
      driven.push_back(p.size);
      append_unknown(p, unknowns_of(base, {region}));
    }
  } else {
    driven = unknowns_of(base, drive->turns.region);
  }
  if (drive->fixed_voltage) append_unknown(p, driven);
  return p;
}

}  // namespace

LocalMedium medium_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p) {
  return body.local ? body.local(p) : LocalMedium{uniform.conductivity, body.magnetisation};
}

double reluctivity_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p,
                      double flux_rms) {
  if (body.law == nullptr) return uniform.reluctivity;
  return body.law->at(flux_rms * flux_rms, medium_at(body, uniform, p).magnetisation).nu;
}

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
  assemble();
  if (drive_) join_coil();
  take_media();
  if (drive_ && drive_->fixed_voltage) join_terminals();
}

void SaturatingSystem::renew(std::vector<SaturatingRegion> bodies, Frequency f,
                             const SeriesDrive& drive) {
  assert(bodies.size() == bodies_.size());
  bodies_ = std::move(bodies);
  take_media();
  move_to(f, drive);
}

void SaturatingSystem::move_to(Frequency f, const SeriesDrive& drive) {
  assert(drive_ && drive_->fixed_voltage == drive.fixed_voltage);
  frequency_ = f;
  drive_ = drive;
  if (drive_->fixed_voltage) join_terminals();
}

/// Properties of the bodies at every point, and with them the mass matrix.
void SaturatingSystem::take_media() {
  mass_ = linear_mass_;
  for (SaturatingCell& cell : cells_) {
    const SaturatingRegion& body = bodies_[cell.body];
    const Medium& uniform = base_.media()[base_.mesh().region[cell.triangle]];
    cell.mass.setZero();
    for (std::size_t q = 0; q < 12; ++q) {
      const auto& node = TriangleRule::nodes()[q];
      cell.medium[q] = medium_at(body, uniform, {cell.triangle, node.x, node.y, cell.at[q]});
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
    const TriangleSamples samples = triangle_samples(points);
    for (std::size_t q = 0; q < samples.size(); ++q) {
      for (int i = 0; i < 6; ++i) cell.at[q] = cell.at[q] + samples[q].value[i] * points[i];
      cell.flux[q] = flux_operator(samples[q]);
      cell.value[q] = samples[q].value;
      cell.volume[q] = two_pi * samples[q].radius * samples[q].area;
    }
    cells_.push_back(cell);
  }
}

void SaturatingSystem::assemble() {
  const Mesh& mesh = base_.mesh();
  linear_.assign(pattern_.entries(), 0.0);
  linear_mass_.assign(pattern_.entries(), 0.0);
  auto cell = cells_.begin();
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (cell != cells_.end() && cell->triangle == t) {
      ++cell;
      continue;
    }
    const Medium& medium = base_.media()[mesh.region[t]];
    const TriangleSamples samples = triangle_samples(triangle_points(mesh, t));
    const std::span<const Sample<6>> all(samples);
    scatter(pattern_, t, integrate<6>(Reluctance{medium.reluctivity}, all), linear_);
    if (medium.conductivity > 0)
      scatter(pattern_, t, integrate<6>(EddyConductance{medium.conductivity}, all), linear_mass_);
  }
  if (!base_.open().present()) return;
  const Eigen::MatrixXd outer = base_.open().stiffness();
  int k = 0;
  for (Eigen::Index i = 0; i < outer.rows(); ++i)
    for (Eigen::Index m = 0; m <= i; ++m, ++k)
      if (pattern_.of_clique[k] >= 0) linear_[pattern_.of_clique[k]] += outer(i, m);
}

double SaturatingSystem::body_loss(const Eigen::VectorXcd& x) const {
  double sum = 0;
  for (const SaturatingCell& cell : cells_) {
    const Potentials a = local(cell, x);
    sum += a.cwiseProduct(cell.mass * a).sum();
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
  Eigen::VectorXcd r = multiply(linear_, x) - f;
  for (SaturatingCell& cell : cells_) {
    const EffectiveReluctivity* law = bodies_[cell.body].law;
    const Potentials a = local(cell, x);
    Potentials y = Potentials::Zero();
    for (std::size_t q = 0; q < 12; ++q) {
      const Eigen::Matrix2d b = cell.flux[q] * a;
      cell.flux_density[q] = b;
      if (law != nullptr) {
        const auto value = law->at(b.squaredNorm(), cell.medium[q].magnetisation);
        cell.nu[q] = value.nu;
        cell.slope[q] = value.slope;
      }
      y += cell.nu[q] * cell.volume[q] * (cell.flux[q].transpose() * b);
    }
    add(cell, y, r);
  }
  return r;
}

void SaturatingSystem::linearise() {
  secant_ = linear_;
  stiffening_.resize(cells_.size());
  for (std::size_t c = 0; c < cells_.size(); ++c) {
    const SaturatingCell& cell = cells_[c];
    ElementMatrix<6> k = ElementMatrix<6>::Zero();
    stiffening_[c].setZero();
    for (std::size_t q = 0; q < 12; ++q) {
      k += cell.nu[q] * cell.volume[q] * (cell.flux[q].transpose() * cell.flux[q]);
      const double size = cell.flux_density[q].squaredNorm();
      if (size <= 0 || cell.slope[q] == 1.0) continue;
      Eigen::Vector<double, 12> c_q;  // derivative of |B|, real then imaginary parts
      c_q << cell.flux[q].transpose() * cell.flux_density[q].col(0),
          cell.flux[q].transpose() * cell.flux_density[q].col(1);
      stiffening_[c] +=
          cell.nu[q] * (cell.slope[q] - 1.0) * cell.volume[q] / size * (c_q * c_q.transpose());
    }
    scatter(pattern_, cell.triangle, k, secant_);
  }
}

void SaturatingSystem::factorise() {
  std::vector<double> middle = linear_;
  for (const SaturatingCell& cell : cells_) {
    ElementMatrix<6> k = ElementMatrix<6>::Zero();
    for (std::size_t q = 0; q < 12; ++q)
      k += 0.5 * cell.nu[q] * (1.0 + cell.slope[q]) * cell.volume[q] *
           (cell.flux[q].transpose() * cell.flux[q]);
    scatter(pattern_, cell.triangle, k, middle);
  }
  factorisation_.compute(middle, mass_, frequency_.omega());
}

Eigen::VectorXcd SaturatingSystem::tangent(const Eigen::VectorXcd& d) const {
  Eigen::VectorXcd y = multiply(secant_, d);
  for (std::size_t c = 0; c < cells_.size(); ++c) {
    const Potentials a = local(cells_[c], d);
    const Eigen::Vector<double, 12> z =
        stiffening_[c] * Eigen::Map<const Eigen::Vector<double, 12>>(a.data());
    add(cells_[c], Eigen::Map<const Potentials>(z.data()), y);
  }
  return y;
}

Eigen::VectorXcd SaturatingSystem::precondition(const Eigen::VectorXcd& r) const {
  return factorisation_.solve(r).col(0);
}

Eigen::VectorXcd SaturatingSystem::multiply(const std::vector<double>& stiffness,
                                            const Eigen::VectorXcd& x) const {
  Eigen::VectorXcd y = Eigen::VectorXcd::Zero(x.size());
  const double w = frequency_.omega();
  const auto times = [](Complex a, Complex b) {  // std::complex checks products for infinities
    return Complex{a.real() * b.real() - a.imag() * b.imag(),
                   a.real() * b.imag() + a.imag() * b.real()};
  };
  for (int column = 0; column < pattern_.size; ++column) {
    const int end = pattern_.column_start[column + 1] - 1;  // the diagonal
    const Complex here = x[column];
    Complex sum = times({stiffness[end], w * mass_[end]}, here);
    for (int k = pattern_.column_start[column]; k < end; ++k) {
      const Complex a{stiffness[k], w * mass_[k]};
      y[pattern_.row[k]] += times(a, here);
      sum += times(a, x[pattern_.row[k]]);
    }
    y[column] += sum;
  }
  return y;
}

}  // namespace cw
