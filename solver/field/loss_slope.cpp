#include "solver/field/loss_slope.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;

RealImag<6> potential_parts(const Mesh& mesh, const FieldSolution& field, std::size_t t) {
  RealImag<6> a;
  for (int i = 0; i < 6; ++i) {
    const Complex here = field.potential[mesh.triangles[t][i]];
    a.row(i) << here.real(), here.imag();
  }
  return a;
}

double volume_of(const Mesh& mesh, RegionId region) {
  return sum_over(mesh, region, [](const Sample<6>& s) { return s.volume(); });
}

double times(const Eigen::Ref<const Eigen::RowVector2d>& row, Complex x) {
  return row[0] * x.real() + row[1] * x.imag();
}

/// The functional of which times() is the real part.
Complex conjugate(const Eigen::Ref<const Eigen::RowVector2d>& row) {
  return {row[0], -row[1]};
}

}  // namespace

FieldLosses::FieldLosses(const EddySystem& system, const TurnSet& turns, const FieldSolution& field)
    : system_(system), field_(field), strands_(system.media().size(), 0.0) {
  for (std::size_t k = 0; k < turns.proximity.size(); ++k)
    strands_[turns.region[k]] = turns.proximity[k] / volume_of(system.mesh(), turns.region[k]);
}

bool FieldLosses::present(std::size_t t) const {
  const RegionId region = system_.mesh().region[t];
  return system_.media()[region].conductivity > 0 || strands_[region] > 0;
}

LossSlope FieldLosses::slope(std::size_t t) const {
  LossSlope slope = strands_[system_.mesh().region[t]] > 0 ? proximity(t) : joule(t);
  slope.to_cubic.array().colwise() *= orientation(system_.mesh().triangles[t]).array();
  return slope;
}

LossSlope FieldLosses::joule(std::size_t t) const {
  const Mesh& mesh = system_.mesh();
  const Complex voltage = field_.loop_voltage[mesh.region[t]];
  const double omega = field_.frequency.omega();
  const RealImag<6> a = potential_parts(mesh, field_, t);
  const TriangleSamples samples = potential_samples(mesh, t);
  const CubicSamples cubics = cubic_samples(mesh, t);
  LossSlope slope;
  for (std::size_t q = 0; q < samples.size(); ++q) {
    const Sample<6>& s = samples[q];
    const double turn = two_pi * s.radius, sigma = system_.medium_at(t, q).conductivity;
    const RealImag<1> potential = s.value.transpose() * a;
    // E = V/(2 pi r) - j w A; its change by dA is -j w dA: (x, y) -> (w y, -w x).
    const RealImag<1> electric{voltage.real() / turn + omega * potential[1],
                               voltage.imag() / turn - omega * potential[0]};
    const RealImag<1> twice = 2 * sigma * s.area * electric,
                      turned{-omega * turn * twice[1], omega * turn * twice[0]};
    slope.loss += 0.5 * turn * twice.dot(electric);
    slope.to_voltage += twice;
    slope.to_potential += s.value * turned;
    slope.to_cubic += cubics[q].value * turned;
  }
  return slope;
}

LossSlope FieldLosses::proximity(std::size_t t) const {
  const Mesh& mesh = system_.mesh();
  const RealImag<6> a = potential_parts(mesh, field_, t);
  const TriangleSamples samples = potential_samples(mesh, t);
  const CubicSamples cubics = cubic_samples(mesh, t);
  LossSlope slope;
  for (std::size_t q = 0; q < samples.size(); ++q) {
    const Sample<6>& s = samples[q];
    const double nu = system_.medium_at(t, q).reluctivity;
    const double weight = strands_[mesh.region[t]] * nu * nu * two_pi * s.radius * s.area;
    const auto operation = flux_operator(s);
    const Eigen::Matrix2d flux = operation * a;  // rows r, z; columns real, imaginary
    slope.loss += weight * flux.squaredNorm();
    slope.to_potential += 2 * weight * operation.transpose() * flux;
    slope.to_cubic += 2 * weight * flux_operator(cubics[q]).transpose() * flux;
  }
  return slope;
}

double FieldLosses::change(const LossSlope& slope, std::size_t t, const CubicSurplus& surplus,
                           const Correction& c) const {
  const Mesh& mesh = system_.mesh();
  double sum = times(slope.to_voltage, c.second_order.loop_voltage[mesh.region[t]]);
  for (int i = 0; i < 6; ++i)
    sum += times(slope.to_potential.row(i), c.second_order.potential[mesh.triangles[t][i]]);
  const Eigen::Vector4cd cubic = surplus.local(c.cubic, t);
  for (int i = 0; i < 4; ++i) sum += times(slope.to_cubic.row(i), cubic[i]);
  return sum;
}

Functional FieldLosses::functional(const CubicSurplus& surplus,
                                   const std::vector<char>& regions) const {
  const Mesh& mesh = system_.mesh();
  Functional g{Eigen::VectorXcd::Zero(surplus.size()), Eigen::VectorXcd::Zero(system_.unknowns()),
               std::vector<Complex>(system_.media().size(), 0.0)};
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (regions[mesh.region[t]] == 0 || !present(t)) continue;
    const LossSlope here = slope(t);
    g.voltage[mesh.region[t]] += conjugate(here.to_voltage);
    for (int i = 0; i < 6; ++i)
      if (const int unknown = system_.dofs().of_node[mesh.triangles[t][i]]; unknown >= 0)
        g.second_order[unknown] += conjugate(here.to_potential.row(i));
    const std::array<int, 4>& cubic = surplus.unknowns(t);
    for (int i = 0; i < 4; ++i)
      if (cubic[i] >= 0) g.cubic[cubic[i]] += conjugate(here.to_cubic.row(i));
  }
  return g;
}

}  // namespace cw
