#include "solver/field/field_solution.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

namespace {

using Complex = std::complex<double>;
using Local = Eigen::Vector<Complex, 6>;

Local local_potential(const Mesh& mesh, const FieldSolution& field, std::size_t t) {
  Local a;
  for (int i = 0; i < 6; ++i) a[i] = field.potential[mesh.triangles[t][i]];
  return a;
}

/// The sources of current at a point.
struct Driven {
  RegionId region;
  double conductivity, radius;
  Complex potential;
};

Complex current_density(const FieldSolution& field, const Driven& d) {
  const Complex induced = field.loop_voltage[d.region] / (two_pi * d.radius) -
                          Complex{0, field.frequency.omega()} * d.potential;
  return d.conductivity * induced + field.impressed[d.region];
}

template <class Visit>
void each_sample(const Mesh& mesh, std::size_t t, Visit visit) {
  const TriangleSamples samples = potential_samples(mesh, t);
  for (std::size_t q = 0; q < samples.size(); ++q) visit(samples[q], samples[q].volume(), q);
}

}  // namespace

double FieldPoint::flux_rms() const {
  return std::sqrt(std::norm(flux_r) + std::norm(flux_z));
}

FieldInTriangle::FieldInTriangle(const Mesh& mesh, const FieldSolution& field, std::size_t t)
    : mesh_(mesh), field_(field), t_(t), functions_(mesh, t), potential_() {
  const Local a = local_potential(mesh, field, t);
  potential_ << a.real(), a.imag();
  for (const Point& node : functions_.points()) size_ = std::max(size_, node.r);
}

FieldPoint FieldInTriangle::at(double x, double y) const {
  const Eigen::Vector<double, 6> shape = shape_values(x, y);
  const Sample<6> s = functions_.at(x, y);
  FieldPoint p;
  for (int i = 0; i < 6; ++i) p.at = p.at + shape[i] * functions_.points()[i];
  const Eigen::Matrix<double, 1, 2> a = s.value.transpose() * potential_;
  const Eigen::Matrix2d slope = s.gradient * potential_;
  p.potential = {a(0), a(1)};
  const Complex slope_r{slope(0, 0), slope(0, 1)}, slope_z{slope(1, 0), slope(1, 1)};
  const bool on_axis = p.at.r < 1e-9 * size_;
  p.flux_r = on_axis ? Complex{} : -slope_z;
  p.flux_z = slope_r + (on_axis ? slope_r : p.potential / p.at.r);
  const RegionId region = mesh_.region[t_];
  const double sigma = field_.conductivity_at(mesh_, t_, shape);
  if (!on_axis) p.current = current_density(field_, {region, sigma, p.at.r, p.potential});
  if (sigma > 0) p.power_density = std::norm(p.current) / sigma;
  return p;
}

FieldPoint field_at(const Mesh& mesh, const FieldSolution& field, std::size_t t, double x,
                    double y) {
  return FieldInTriangle(mesh, field, t).at(x, y);
}

std::vector<double> region_losses(const Mesh& mesh, const FieldSolution& field) {
  std::vector<double> loss(mesh.region_name.size(), 0.0);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const RegionId region = mesh.region[t];
    if (field.media[region].conductivity <= 0) continue;
    const Local a = local_potential(mesh, field, t);
    each_sample(mesh, t, [&](const Sample<6>& s, double volume, std::size_t q) {
      const double sigma = field.conductivity_at(mesh, t, rule_shape(q));
      const Driven here{region, sigma, s.radius, s.value.cast<Complex>().dot(a)};
      loss[region] += std::norm(current_density(field, here)) / sigma * volume;
    });
  }
  return loss;
}

double magnetic_energy(const Mesh& mesh, const FieldSolution& field) {
  double energy = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const Local a = local_potential(mesh, field, t);
    const double nu = field.media[mesh.region[t]].reluctivity;
    each_sample(mesh, t, [&](const Sample<6>& s, double volume, std::size_t /*node*/) {
      energy += 0.5 * nu * (flux_operator(s).cast<Complex>() * a).squaredNorm() * volume;
    });
  }
  return energy;
}

double mean_square_field(const Mesh& mesh, const FieldSolution& field, RegionId region) {
  double sum = 0, volume_sum = 0;
  const double nu = field.media[region].reluctivity;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] != region) continue;
    const Local a = local_potential(mesh, field, t);
    each_sample(mesh, t, [&](const Sample<6>& s, double volume, std::size_t /*node*/) {
      sum += nu * nu * (flux_operator(s).cast<Complex>() * a).squaredNorm() * volume;
      volume_sum += volume;
    });
  }
  return volume_sum > 0 ? sum / volume_sum : 0.0;
}

double FieldSolution::reluctivity_of(const Mesh& mesh, std::size_t t) const {
  return local_reluctivity.empty() ? media[mesh.region[t]].reluctivity : local_reluctivity[t];
}

double FieldSolution::conductivity_at(const Mesh& mesh, std::size_t t,
                                      const Eigen::Vector<double, 6>& shape) const {
  if (local_conductivity.empty()) return media[mesh.region[t]].conductivity;
  const std::array<double, 6>& node = local_conductivity[t];
  double sigma = 0;
  for (std::size_t i = 0; i < 6; ++i) sigma += shape[static_cast<Eigen::Index>(i)] * node[i];
  // Second-order functions may overshoot at a jump.
  const auto [low, high] = std::minmax_element(node.begin(), node.end());
  return std::clamp(sigma, *low, *high);
}

bool FieldSolution::saturates(RegionId region) const {
  return !saturating.empty() && saturating[region] != 0;
}

}  // namespace cw
