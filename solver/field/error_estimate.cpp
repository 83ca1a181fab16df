#include "solver/field/error_estimate.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "solver/field/cubic_surplus.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2 * std::numbers::pi;

constexpr double safety = 2.0;
/// Curved borders, quadrature and open space, which the cubic functions do not see.
constexpr double floor_error = 2e-5;

/// What the fine correction and the crude one do to a quantity.
struct Change {
  double fine = 0.0, crude = 0.0;

  [[nodiscard]] double relative_to(double quantity) const {
    if (quantity == 0.0) return 0.0;
    return safety * (std::abs(fine) + 0.5 * std::abs(fine - crude)) / std::abs(quantity) +
           floor_error;
  }
  void operator+=(const Change& other) {
    fine += other.fine;
    crude += other.crude;
  }
};

/// What is missing in a second-order field: a cubic part, and the second-order part that comes with
/// it.
struct Correction {
  Eigen::VectorXcd cubic;      ///< over the functions of CubicSurplus
  FieldSolution second_order;  ///< potential at the nodes and turn voltages

  void scale(Complex factor) {
    cubic *= factor;
    second_order = scaled(second_order, factor);
  }
  void operator+=(const Correction& other) {
    cubic += other.cubic;
    second_order.potential += other.second_order.potential;
    for (std::size_t i = 0; i < second_order.loop_voltage.size(); ++i)
      second_order.loop_voltage[i] += other.second_order.loop_voltage[i];
  }
};

/// The field equation of a coil in cubic and second-order functions together, the current of every
/// turn unchanged. The factorisation and the turn response at hand eliminate the second-order part.
class EnrichedProblem {
 public:
  EnrichedProblem(const EddySystem& system, const TurnSet& turns, const TurnResponse& response)
      : system_(system), turns_(turns), response_(response), surplus_(system, response.frequency) {}

  [[nodiscard]] const CubicSurplus& surplus() const { return surplus_; }

  /// The correction that the equation gives a cubic part: one back-substitution.
  [[nodiscard]] Correction complete(const Eigen::VectorXcd& cubic) const {
    const Eigen::VectorXcd load = surplus_.load_on_second_order(cubic);
    Eigen::VectorXcd unknowns = system_.solve(load);
    const std::vector<Complex> zero(system_.media().size(), 0.0);
    Correction c{cubic, {response_.frequency, {}, {}, zero, zero}};
    if (turns_.kind == TurnKind::massive) {
      const Eigen::VectorXcd linkage = surplus_.linkage(cubic);
      Eigen::VectorXcd induced = response_.potential.transpose() * load;
      for (std::size_t k = 0; k < turns_.region.size(); ++k)
        induced[k] += linkage[turns_.region[k]];
      const Eigen::VectorXcd voltage =
          Complex{0, response_.frequency.omega()} * (response_.impedance * induced);
      unknowns.noalias() += response_.potential * voltage;
      for (std::size_t k = 0; k < turns_.region.size(); ++k)
        c.second_order.loop_voltage[turns_.region[k]] = voltage[k];
    }
    c.second_order.potential = system_.to_nodes(unknowns);
    return c;
  }

  /// What the cubic functions feel of a correction.
  [[nodiscard]] Eigen::VectorXcd apply(const Correction& c) const {
    return surplus_.apply(c.cubic) - surplus_.residual(c.second_order);
  }

 private:
  const EddySystem& system_;
  const TurnSet& turns_;
  const TurnResponse& response_;
  CubicSurplus surplus_;
};

/// Corrections of a field with the given residual.
struct Corrections {
  Correction crude;  ///< the cubic functions answer alone, then the second-order ones
  Correction fine;   ///< both together, by two steps of conjugate gradients
};

Corrections correct(const EnrichedProblem& problem, const Eigen::VectorXcd& residual) {
  const auto product = [](const Eigen::VectorXcd& a, const Eigen::VectorXcd& b) {
    return a.cwiseProduct(b).sum();
  };
  Correction first = problem.complete(problem.surplus().answer(residual));
  Corrections result{first, first};
  const Complex size = product(residual, first.cubic);
  if (size == 0.0) return result;
  const Eigen::VectorXcd image = problem.apply(first);
  const Complex step = size / product(first.cubic, image);
  const Eigen::VectorXcd rest = residual - step * image;
  const Eigen::VectorXcd answer = problem.surplus().answer(rest);
  // Conjugate to the first direction in spite of the inexact answers.
  const Complex overlap = product(answer, image) / product(first.cubic, image);
  Correction second = problem.complete(answer - overlap * first.cubic);
  second.scale(product(rest, second.cubic) / product(second.cubic, problem.apply(second)));
  result.fine.scale(step);
  result.fine += second;
  return result;
}

/// Complex numbers as rows of (real, imaginary): products with real shape functions stay real.
template <int N>
using Parts = Eigen::Matrix<double, N, 2>;

/// Loss of one triangle and its derivative: a correction changes the loss by the sum of the
/// products of the parts.
struct LossSlope {
  double loss = 0.0;  ///< [W]
  Parts<1> to_voltage = Parts<1>::Zero();
  Parts<6> to_potential = Parts<6>::Zero();
  Parts<4> to_cubic = Parts<4>::Zero();
};

LossSlope loss_slope(const EddySystem& system, const FieldSolution& field, std::size_t t) {
  const Mesh& mesh = system.mesh();
  const Complex voltage = field.loop_voltage[mesh.region[t]];
  const double omega = field.frequency.omega(), sigma = system.media()[mesh.region[t]].conductivity;
  Parts<6> a;
  for (int i = 0; i < 6; ++i)
    a.row(i) << field.potential[mesh.triangles[t][i]].real(),
        field.potential[mesh.triangles[t][i]].imag();
  const TriangleSamples samples = triangle_samples(triangle_points(mesh, t));
  const auto& cubics = cubic_values();
  LossSlope slope;
  for (std::size_t q = 0; q < samples.size(); ++q) {
    const Sample<6>& s = samples[q];
    const double turn = two_pi * s.radius;
    const Parts<1> potential = s.value.transpose() * a;
    // E = V/(2 pi r) - j w A; its change by dA is -j w dA: (x, y) -> (w y, -w x).
    const Parts<1> electric{voltage.real() / turn + omega * potential[1],
                            voltage.imag() / turn - omega * potential[0]};
    const Parts<1> twice = 2 * sigma * s.area * electric,
                   turned{-omega * turn * twice[1], omega * turn * twice[0]};
    slope.loss += 0.5 * turn * twice.dot(electric);
    slope.to_voltage += twice;
    slope.to_potential += s.value * turned;
    slope.to_cubic += cubics[q] * turned;
  }
  slope.to_cubic.array().colwise() *= orientation(mesh.triangles[t]).array();
  return slope;
}

/// Losses of the regions and their changes by two corrections, by RegionId [W].
struct Losses {
  std::vector<double> loss;
  std::vector<Change> change;
};

Losses losses(const EddySystem& system, const CubicSurplus& surplus, const FieldSolution& field,
              const std::array<const Correction*, 2>& corrections) {
  const Mesh& mesh = system.mesh();
  Losses result{std::vector<double>(system.media().size(), 0.0),
                std::vector<Change>(system.media().size())};
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const RegionId region = mesh.region[t];
    if (system.media()[region].conductivity <= 0) continue;
    const LossSlope slope = loss_slope(system, field, t);
    const auto change = [&](const Correction& c) {
      const auto times = [](const auto& row, Complex x) {
        return row[0] * x.real() + row[1] * x.imag();
      };
      double sum = times(slope.to_voltage, c.second_order.loop_voltage[region]);
      for (int i = 0; i < 6; ++i)
        sum += times(slope.to_potential.row(i), c.second_order.potential[mesh.triangles[t][i]]);
      const Eigen::Vector4cd cubic = surplus.local(c.cubic, t);
      for (int i = 0; i < 4; ++i) sum += times(slope.to_cubic.row(i), cubic[i]);
      return sum;
    };
    result.loss[region] += slope.loss;
    result.change[region] += Change{change(*corrections[0]), change(*corrections[1])};
  }
  return result;
}

}  // namespace

ErrorEstimate estimate_error(const EddySystem& system, const TurnSet& turns,
                             const TurnResponse& response, const SeriesCoil& coil) {
  const EnrichedProblem problem(system, turns, response);
  const Eigen::VectorXcd residual = problem.surplus().residual(coil.field);
  const auto [crude, fine] = correct(problem, residual);

  ErrorEstimate estimate;
  const auto inductance_change = [&](const Correction& c) {
    return residual.cwiseProduct(c.cubic).sum().real();
  };
  estimate.inductance = Change{inductance_change(fine), inductance_change(crude)}.relative_to(
      coil.impedance.imag() / response.frequency.omega());
  const auto [loss, change] = losses(system, problem.surplus(), coil.field, {&fine, &crude});
  for (std::size_t i = 0; i < loss.size(); ++i)
    estimate.power.push_back(change[i].relative_to(loss[i]));
  Change coil_change;
  double coil_loss = 0;
  for (const RegionId region : turns.region) {
    coil_change += change[region];
    coil_loss += loss[region];
  }
  estimate.coil_loss = coil_change.relative_to(coil_loss);
  return estimate;
}

}  // namespace cw
