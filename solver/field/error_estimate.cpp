#include "solver/field/error_estimate.hpp"

#include <cmath>
#include <numbers>

#include "solver/field/enriched_problem.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2 * std::numbers::pi;

constexpr double safety = 1.5;
/// Curved borders, quadrature and open space, which the cubic functions do not see.
constexpr double floor_error = 2e-5;

/// The correction d, and the one from the diagonal alone.
struct Change {
  double fine = 0.0, crude = 0.0;

  [[nodiscard]] double relative_to(double quantity) const {
    if (quantity == 0.0) return 0.0;
    return safety * (std::abs(fine) + 0.5 * std::abs(fine - crude)) / std::abs(quantity) + floor_error;
  }
  void operator+=(const Change& other) {
    fine += other.fine;
    crude += other.crude;
  }
};

/// A field at the points of one triangle: azimuthal E [V/m].
struct LocalField {
  Complex voltage;  ///< round the region [V]
  Eigen::Vector<Complex, 6> potential;
  Eigen::Vector4cd cubic = Eigen::Vector4cd::Zero();

  LocalField(const Mesh& mesh, const FieldSolution& field, std::size_t t) : voltage(field.loop_voltage[mesh.region[t]]) {
    for (int i = 0; i < 6; ++i) potential[i] = field.potential[mesh.triangles[t][i]];
  }

  [[nodiscard]] Complex electric(const Sample<6>& s, const Sample<4>& c, Complex jw) const {
    return voltage / (two_pi * s.radius) -
           jw * (s.value.cast<Complex>().dot(potential) + c.value.cast<Complex>().dot(cubic));
  }
};

/// Changes of the losses by the two corrections, by RegionId [W].
class LossChanges {
 public:
  LossChanges(const EddySystem& system, const CubicSurplus& surplus, const FieldSolution& field)
      : system_(system), surplus_(surplus), field_(field) {}

  [[nodiscard]] std::vector<Change> of(const Correction& fine, const Correction& crude) const {
    std::vector<Change> changes(system_.media().size());
    for (std::size_t t = 0; t < system_.mesh().triangles.size(); ++t)
      if (conductivity(t) > 0) changes[system_.mesh().region[t]] += of_triangle(fine, crude, t);
    return changes;
  }

 private:
  [[nodiscard]] double conductivity(std::size_t t) const {
    return system_.media()[system_.mesh().region[t]].conductivity;
  }

  [[nodiscard]] LocalField local(const Correction& c, std::size_t t) const {
    LocalField f(system_.mesh(), c.second_order, t);
    f.cubic = surplus_.local(c.cubic, t);
    return f;
  }

  [[nodiscard]] Change of_triangle(const Correction& fine, const Correction& crude, std::size_t t) const {
    const Mesh& mesh = system_.mesh();
    const LocalField a(mesh, field_, t), da = local(fine, t), da0 = local(crude, t);
    const Complex jw{0, field_.frequency.omega()};
    const TriangleSamples samples = triangle_samples(triangle_points(mesh, t));
    const auto cubics = cubic_samples(samples, mesh.triangles[t]);
    Change change;
    for (std::size_t q = 0; q < samples.size(); ++q) {
      const Sample<6>& s = samples[q];
      const double weight = conductivity(t) * two_pi * s.radius * s.area;
      const Complex e = a.electric(s, cubics[q], jw), de = da.electric(s, cubics[q], jw),
                    de0 = da0.electric(s, cubics[q], jw);
      change.fine += weight * (2 * std::real(std::conj(e) * de) + std::norm(de));
      change.crude += weight * (2 * std::real(std::conj(e) * de0) + std::norm(de0));
    }
    return change;
  }

  const EddySystem& system_;
  const CubicSurplus& surplus_;
  const FieldSolution& field_;
};

}  // namespace

ErrorEstimate estimate_error(const EddySystem& system, const TurnSet& turns, const TurnResponse& response,
                             const SeriesCoil& coil) {
  constexpr int steps = 3;
  const EnrichedProblem problem(system, turns, response);
  const Eigen::VectorXcd residual = problem.surplus().residual(coil.field);
  const Correction fine = problem.solve(residual, steps), crude = problem.solve_crudely(residual);

  ErrorEstimate estimate;
  const auto inductance_change = [&](const Correction& c) { return residual.cwiseProduct(c.cubic).sum().real(); };
  estimate.inductance = Change{inductance_change(fine), inductance_change(crude)}.relative_to(
      coil.impedance.imag() / response.frequency.omega());

  const std::vector<Change> changes = LossChanges(system, problem.surplus(), coil.field).of(fine, crude);
  const std::vector<double> loss = region_losses(system.mesh(), coil.field);
  for (std::size_t i = 0; i < loss.size(); ++i) estimate.power.push_back(changes[i].relative_to(loss[i]));
  Change coil_change;
  double coil_loss = 0;
  for (const RegionId region : turns.region) {
    coil_change += changes[region];
    coil_loss += loss[region];
  }
  estimate.coil_loss = coil_change.relative_to(coil_loss);
  return estimate;
}

}  // namespace cw
