#include "solver/field/error_estimate.hpp"

#include <cmath>
#include <numbers>

#include "solver/fem/triangle.hpp"
#include "solver/field/cubic_surplus.hpp"
#include "solver/field/enriched_problem.hpp"

namespace cw {

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2 * std::numbers::pi;

constexpr double safety = 1.5;
/// Curved borders, quadrature and open space, which the cubic functions do not see.
constexpr double floor_error = 2e-5;

/// What a correction of the field does to the quantities.
struct Changes {
  double inductance = 0.0;   ///< [H]
  std::vector<double> loss;  ///< by RegionId [W]
};

/// Change of |E|^2 2 pi r sigma over one triangle [W].
double loss_change(const EddySystem& system, const FieldSolution& field, const Correction& e, std::size_t t) {
  const Mesh& mesh = system.mesh();
  const RegionId region = mesh.region[t];
  const Complex jw{0, field.frequency.omega()};
  Eigen::Vector<Complex, 6> a, da;
  for (int i = 0; i < 6; ++i) {
    a[i] = field.potential[mesh.triangles[t][i]];
    da[i] = e.second_order.potential[mesh.triangles[t][i]];
  }
  const Eigen::Vector4cd dc = e.of_triangle(t);
  const TriangleSamples samples = triangle_samples(triangle_points(mesh, t));
  double change = 0;
  for (std::size_t q = 0; q < samples.size(); ++q) {
    const Sample<6>& s = samples[q];
    const auto& node = TriangleRule::nodes()[q];
    const Eigen::Vector4d cubic = cubic_values(node.x, node.y, mesh.triangles[t]);
    const double turn = two_pi * s.radius;
    const Complex electric = field.loop_voltage[region] / turn - jw * s.value.cast<Complex>().dot(a);
    const Complex error = e.second_order.loop_voltage[region] / turn -
                          jw * (s.value.cast<Complex>().dot(da) + cubic.cast<Complex>().dot(dc));
    change += turn * s.area * (2 * std::real(std::conj(electric) * error) + std::norm(error));
  }
  return system.media()[region].conductivity * change;
}

}  // namespace
}  // namespace cw
