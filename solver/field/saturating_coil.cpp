// The coil's part of SaturatingSystem: voltages of the rings as unknowns.
#include <numbers>

#include "solver/field/saturating_system.hpp"
#include "solver/field/sources.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

/// Middle length of the turn [m], by its section.
double turn_length(const Mesh& mesh, RegionId region) {
  const double moment =
      sum_over(mesh, region, [](const Sample<6>& s) { return s.radius * s.area; });
  return 2 * std::numbers::pi * moment / section_area(mesh, region);
}

}  // namespace

void SaturatingSystem::join_coil() {
  const TurnSet& turns = drive_->turns;
  int column = potentials_;
  if (turns.kind == TurnKind::massive) {
    for (const RegionId region : turns.region) {
      const double length = turn_length(base_.mesh(), region);
      turn_length_.push_back(length);
      const Eigen::VectorXd source = voltage_source(base_, region);
      const int end = pattern_.column_start[column + 1] - 1;
      for (int k = pattern_.column_start[column]; k < end; ++k)
        linear_mass_[k] = -length * source[pattern_.row[k]];
      linear_mass_[end] = length * length * loop_conductance(base_, region);
      ++column;
    }
  } else {
    strand_source_ = Eigen::VectorXd::Zero(potentials_);
    for (std::size_t k = 0; k < turns.region.size(); ++k)
      strand_source_ += turns.weight[k] * current_source(base_, turns.region[k]);
  }
}

Eigen::VectorXcd SaturatingSystem::excitation() const {
  Eigen::VectorXcd f = Eigen::VectorXcd::Zero(unknowns());
  if (!drive_) return f;
  if (drive_->turns.kind == TurnKind::uniform)
    f.head(potentials_) = drive_->current * strand_source_.cast<Complex>();
  else
    for (std::size_t k = 0; k < turn_length_.size(); ++k)
      f[potentials_ + static_cast<int>(k)] =
          drive_->current * turn_length_[k] * drive_->turns.weight[k];
  return f;
}

Eigen::VectorXcd SaturatingSystem::unknowns_of(const Eigen::VectorXcd& potential,
                                               const std::vector<Complex>& ring_voltage) const {
  Eigen::VectorXcd x(unknowns());
  x.head(potentials_) = potential;
  for (std::size_t k = 0; k < turn_length_.size(); ++k)
    x[potentials_ + static_cast<int>(k)] =
        ring_voltage[k] / (imaginary_unit * frequency_.omega() * turn_length_[k]);
  return x;
}

std::vector<Complex> SaturatingSystem::ring_voltages(const Eigen::VectorXcd& x) const {
  std::vector<Complex> v;
  for (std::size_t k = 0; k < turn_length_.size(); ++k)
    v.push_back(imaginary_unit * frequency_.omega() * turn_length_[k] *
                x[potentials_ + static_cast<int>(k)]);
  return v;
}

Complex SaturatingSystem::coil_voltage(const Eigen::VectorXcd& x) const {
  if (!drive_) return 0.0;
  const TurnSet& turns = drive_->turns;
  Complex sum = 0;
  if (turns.kind == TurnKind::massive) {
    const std::vector<Complex> v = ring_voltages(x);
    for (std::size_t k = 0; k < v.size(); ++k) sum += turns.weight[k] * v[k];
    return sum;
  }
  sum = imaginary_unit * frequency_.omega() *
        strand_source_.cast<Complex>().cwiseProduct(x.head(potentials_)).sum();
  for (std::size_t k = 0; k < turns.region.size(); ++k)
    sum += turns.weight[k] * turns.weight[k] * turns.resistance[k] * drive_->current;
  return sum;
}

}  // namespace cw
