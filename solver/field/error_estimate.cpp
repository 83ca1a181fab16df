#include "solver/field/error_estimate.hpp"

#include <cmath>
#include <cstdlib>
#include <numbers>

#include "solver/fem/triangle.hpp"
#include "solver/field/cubic_surplus.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2 * std::numbers::pi;

/// Complex symmetric: no conjugate.
Complex product(const Eigen::VectorXcd& a, const Eigen::VectorXcd& b) { return a.cwiseProduct(b).sum(); }

/// An error of the field: cubic part and second-order part (potential at the nodes and voltages of the turns).
struct FieldError {
  Eigen::VectorXcd cubic;
  FieldSolution second_order;

  void add(Complex factor, const FieldError& other) {
    cubic += factor * other.cubic;
    second_order.potential += factor * other.second_order.potential;
    for (std::size_t i = 0; i < second_order.loop_voltage.size(); ++i)
      second_order.loop_voltage[i] += factor * other.second_order.loop_voltage[i];
  }
};

/// The field equation in second-order and cubic functions together, the former eliminated by the factorisation.
class EnrichedProblem {
 public:
  EnrichedProblem(const EddySystem& system, const TurnSet& turns, const TurnResponse& response)
      : system_(system), turns_(turns), response_(response), surplus_(system, response.frequency) {}

  [[nodiscard]] const CubicSurplus& surplus() const { return surplus_; }

  /// The second-order answer to the cubic part x, all turn currents unchanged.
  [[nodiscard]] FieldError complete(const Eigen::VectorXcd& x) const {
    const Complex jw{0, response_.frequency.omega()};
    const Eigen::VectorXcd load = surplus_.load_on_second_order(x);
    Eigen::VectorXcd unknowns = system_.solve(load);
    FieldError e{x, {}};
    e.second_order.frequency = response_.frequency;
    e.second_order.loop_voltage.assign(system_.media().size(), 0.0);
    e.second_order.impressed.assign(system_.media().size(), 0.0);
    if (turns_.kind == TurnKind::massive) {
      const Eigen::VectorXcd linked = surplus_.linkage(x);
      Eigen::VectorXcd emf = response_.potential.transpose() * load;
      for (std::size_t k = 0; k < turns_.region.size(); ++k) emf[k] += linked[turns_.region[k]];
      const Eigen::VectorXcd voltage = jw * (response_.impedance * emf);
      unknowns += response_.potential * voltage;
      for (std::size_t k = 0; k < turns_.region.size(); ++k) e.second_order.loop_voltage[turns_.region[k]] = voltage[k];
    }
    e.second_order.potential = system_.to_nodes(unknowns);
    return e;
  }

  /// The equation of the cubic functions with the second-order ones eliminated.
  [[nodiscard]] Eigen::VectorXcd apply(const FieldError& e) const {
    return surplus_.apply(e.cubic) - surplus_.residual(e.second_order);
  }

  /// Roughly the cubic part that answers r, second-order functions at rest: a fixed number of steps of conjugate
  /// gradients without conjugation on the cubic functions alone.
  [[nodiscard]] Eigen::VectorXcd precondition(const Eigen::VectorXcd& r, int steps) const {
    const Eigen::VectorXcd& d = surplus_.diagonal();
    Eigen::VectorXcd rest = r, z = rest.cwiseQuotient(d), p = z, x = Eigen::VectorXcd::Zero(r.size());
    if (steps == 0) return z;
    Complex rz = product(rest, z);
    for (int k = 0; k < steps && rz != 0.0; ++k) {
      const Eigen::VectorXcd ap = surplus_.apply(p);
      const Complex step = rz / product(p, ap);
      x += step * p;
      rest -= step * ap;
      z = rest.cwiseQuotient(d);
      const Complex next = product(rest, z);
      p = z + (next / rz) * p;
      rz = next;
    }
    return x;
  }

 private:
  const EddySystem& system_;
  const TurnSet& turns_;
  const TurnResponse& response_;
  CubicSurplus surplus_;
};

/// What an error of the field does to the quantities.
struct Changes {
  double inductance = 0.0;
  std::vector<double> loss;  ///< by RegionId
};

std::vector<double> loss_changes(const EddySystem& system, const CubicSurplus& surplus, const FieldSolution& field, const FieldError& e) {
  const Mesh& mesh = system.mesh();
  std::vector<double> change(mesh.region_name.size(), 0.0);
  const Complex jw{0, field.frequency.omega()};
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const RegionId region = mesh.region[t];
    const double sigma = system.media()[region].conductivity;
    if (sigma <= 0) continue;
    Eigen::Vector<Complex, 6> a, da;
    for (int i = 0; i < 6; ++i) {
      a[i] = field.potential[mesh.triangles[t][i]];
      da[i] = e.second_order.potential[mesh.triangles[t][i]];
    }
    const Eigen::Vector4cd dc = surplus.local(e.cubic, t);
    const TriangleSamples samples = triangle_samples(triangle_points(mesh, t));
    for (std::size_t q = 0; q < samples.size(); ++q) {
      const auto& node = TriangleRule::nodes()[q];
      const Sample<6>& s = samples[q];
      const Sample<4> cubic = cubic_sample(s, node.x, node.y, mesh.triangles[t]);
      const double turn = two_pi * s.radius;
      const Complex electric = field.loop_voltage[region] / turn - jw * s.value.cast<Complex>().dot(a);
      const Complex error = e.second_order.loop_voltage[region] / turn -
                            jw * (s.value.cast<Complex>().dot(da) + cubic.value.cast<Complex>().dot(dc));
      change[region] += sigma * turn * s.area * (2 * std::real(std::conj(electric) * error) + std::norm(error));
    }
  }
  return change;
}

}  // namespace

ErrorEstimate estimate_error(const EddySystem& system, const TurnSet& turns, const TurnResponse& response,
                             const SeriesCoil& coil) {
  const EnrichedProblem problem(system, turns, response);
  const Eigen::VectorXcd r = problem.surplus().residual(coil.field);
  (void)r;
  return {};
}

}  // namespace cw
