#include "tests/published/reference/stray.hpp"

#include <Eigen/LU>
#include <cmath>

namespace cw::reference {
namespace {

Space minus(const Space& a, const Space& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
double inner_product(const Space& a, const Space& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
Space cross(const Space& a, const Space& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

/// A strip of a surface that carries current round the axis.
struct Strip {
  double radius, height, width;
  int body;  ///< number of the tube, or -1: the rod
};

std::vector<Strip> strips_of(const ScreenedCoil& coil, int strips_a_tube, double rod_strip) {
  std::vector<Strip> strips;
  for (std::size_t t = 0; t < coil.tubes.size(); ++t)
    for (int k = 0; k < strips_a_tube; ++k) {
      const double angle = 2 * kPi * (k + 0.5) / strips_a_tube, a = coil.tubes[t].section_radius;
      strips.push_back({coil.tubes[t].mean_radius + a * std::cos(angle),
                        coil.heights[t] + a * std::sin(angle), 2 * kPi * a / strips_a_tube,
                        static_cast<int>(t)});
    }
  if (coil.rod_radius <= 0) return strips;
  const auto along = static_cast<int>(std::ceil((coil.rod_high - coil.rod_low) / rod_strip));
  const double high = (coil.rod_high - coil.rod_low) / along;
  for (int k = 0; k < along; ++k)
    strips.push_back({coil.rod_radius, coil.rod_low + (k + 0.5) * high, high, -1});
  const auto across = static_cast<int>(std::ceil(coil.rod_radius / rod_strip));
  const double wide = coil.rod_radius / across;
  for (int k = 0; k < across; ++k)
    for (const double z : {coil.rod_low, coil.rod_high})
      strips.push_back({(k + 0.5) * wide, z, wide, -1});
  return strips;
}

double flux_between(const Strip& a, const Strip& b, bool same) {
  if (!same) return mutual_inductance(a.radius, b.radius, a.height - b.height);
  return kMu0 * a.radius * (std::log(8 * a.radius / (0.2231 * a.width)) - 2);
}

}  // namespace

Space flux_of_path(const std::vector<Space>& corners, const Space& at) {
  Space sum{};
  for (std::size_t k = 0; k + 1 < corners.size(); ++k) {
    const Space a = minus(at, corners[k]), b = minus(at, corners[k + 1]);
    const double la = std::sqrt(inner_product(a, a)), lb = std::sqrt(inner_product(b, b));
    const double share = kMu0 / (4 * kPi) * (la + lb) / (la * lb * (la * lb + inner_product(a, b)));
    const Space turned = cross(a, b);
    for (int i = 0; i < 3; ++i) sum[i] += share * turned[i];
  }
  return sum;
}

std::vector<Space> helix_path(const WoundHelix& helix, int pieces) {
  const auto all = static_cast<int>(std::ceil(helix.turns * pieces));
  std::vector<Space> path;
  for (int k = 0; k <= all; ++k) {
    const double along = static_cast<double>(k) / all;
    const double angle = (helix.right_handed ? 1 : -1) * 2 * kPi * helix.turns * along;
    path.push_back({helix.radius * std::cos(angle), helix.radius * std::sin(angle),
                    helix.bottom + along * (helix.top - helix.bottom)});
  }
  return path;
}

std::vector<LoopCurrent> surface_currents(const ScreenedCoil& coil, int strips_a_tube,
                                          double rod_strip) {
  const std::vector<Strip> strips = strips_of(coil, strips_a_tube, rod_strip);
  const auto n = static_cast<Eigen::Index>(strips.size());
  const auto tubes = static_cast<Eigen::Index>(coil.tubes.size());
  Eigen::MatrixXd system = Eigen::MatrixXd::Zero(n + tubes, n + tubes);
  Eigen::VectorXd known = Eigen::VectorXd::Zero(n + tubes);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j <= i; ++j)
      system(i, j) = system(j, i) = flux_between(strips[i], strips[j], i == j) / kMu0;
    if (strips[i].body < 0) continue;
    system(i, n + strips[i].body) = -1;  // the flux common to the tube
    system(n + strips[i].body, i) = 1;
  }
  known.tail(tubes).setOnes();
  const Eigen::VectorXd current = system.partialPivLu().solve(known);
  std::vector<LoopCurrent> loops;
  for (Eigen::Index i = 0; i < n; ++i)
    loops.push_back({strips[i].radius, strips[i].height, current[i]});
  return loops;
}

LoopField flux_of_loops(const std::vector<LoopCurrent>& loops, double x, double z) {
  LoopField sum{0, 0};
  for (const LoopCurrent& loop : loops) {
    const LoopField one = loop_field(loop.radius, x, z - loop.height);
    sum.radial += loop.share * one.radial;
    sum.axial += loop.share * one.axial;
  }
  return sum;
}

}  // namespace cw::reference
