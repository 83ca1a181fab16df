#include "solver/thermal/coil_enclosure.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cassert>
#include <cmath>

#include "solver/thermal/view_factor.hpp"

namespace cw {
namespace {

constexpr int fewest = 8, most = 48;  // rings

/// Share of the radiation of a ring of the rod that reaches the part of the cylinder from `low` to
/// `high` above it.
double to_cylinder(const CoaxialPair& pair, double low, double high) {
  return view_of_ring(pair, high) - view_of_ring(pair, low);
}

/// View factors between the rings. Rod: `more` rings below the cylinder, those within, `more`
/// above.
struct Views {
  Eigen::MatrixXd rod_wall;  ///< from the rod (rows) to the cylinder
  Eigen::MatrixXd wall_rod;  ///< from the cylinder (rows) to the rod
  Eigen::MatrixXd wall_wall;
};

/// They depend only on the distance of two rings.
Views views_of(const CoaxialPair& pair, double step, int rings, int more) {
  std::vector<double> across, along;
  for (int k = 0; k < rings + more; ++k) {
    const double low = (k - 0.5) * step, high = (k + 0.5) * step;
    across.push_back(to_cylinder(pair, low, high));
    along.push_back(view_along_wall(pair, high) - view_along_wall(pair, low));
  }
  Views views;
  views.rod_wall.resize(rings + 2 * more, rings);
  views.wall_wall.resize(rings, rings);
  for (int j = 0; j < rings; ++j) {
    for (int i = 0; i < rings + 2 * more; ++i)
      views.rod_wall(i, j) = across[std::abs(i - more - j)];
    for (int k = 0; k < rings; ++k) views.wall_wall(j, k) = along[std::abs(j - k)];
  }
  // A1 F12 = A2 F21, with rings of equal height.
  views.wall_rod = pair.inner / pair.outer * views.rod_wall.transpose();
  return views;
}

}  // namespace

CoilEnclosure::CoilEnclosure(const RodInCylinder& place) : place_(place) {
  const CoaxialPair pair{place.rod_radius, place.radius};
  assert(pair.inner < pair.outer && place.low < place.high);
  const double height = place.high - place.low, gap = pair.outer - pair.inner;
  const int n = std::clamp(static_cast<int>(std::ceil(3 * height / gap)), fewest, most);
  step_ = height / n;
  // Beyond the cylinder, to a distance at which the views become small.
  const int more = std::min(most, static_cast<int>(std::ceil(3 * pair.outer / step_)));
  const Views see = views_of(pair, step_, n, more);
  // Reflected by the rod; for heights without rod see the header. Outside the cylinder light
  // escapes there.
  Eigen::VectorXd thrown(n + 2 * more), free = Eigen::VectorXd::Zero(n + 2 * more);
  for (int i = 0; i < thrown.size(); ++i) {
    const double z = middle(i - more);
    const bool rod = z > place.rod_low && z < place.rod_high, within = i >= more && i < more + n;
    thrown[i] = rod ? 1 - place.emissivity : (within ? 1.0 : 0.0);
    if (!rod && !within) free[i] = 1.0;
  }
  // Light that leaves the cylinder falls on it again, directly or reflected by the rod, or escapes
  // through the ends.
  const Eigen::MatrixXd by_rod = see.wall_rod * thrown.asDiagonal();
  const Eigen::MatrixXd again = see.wall_wall + by_rod * see.rod_wall;
  const Eigen::VectorXd past =
      Eigen::VectorXd::Ones(n) - see.wall_wall.rowwise().sum() - see.wall_rod.rowwise().sum();
  const Eigen::VectorXd misses =
      Eigen::VectorXd::Ones(thrown.size()) - see.rod_wall.rowwise().sum();
  const Eigen::VectorXd out = past.cwiseMax(0.0) + see.wall_rod * free + by_rod * misses;
  const double r = place.wall.reflects();
  Eigen::MatrixXd known(n, 2);
  known.col(0).setConstant(place.wall.takes);
  known.col(1) = Eigen::VectorXd::Constant(n, place.wall.passes) + r * out;
  const Eigen::MatrixXd fates =
      (Eigen::MatrixXd::Identity(n, n) - r * again).partialPivLu().solve(known);
  for (int j = 0; j < n; ++j) after_.push_back({fates(j, 0), fates(j, 1)});
}

Fate CoilEnclosure::from(double z) const {
  const CoaxialPair pair{place_.rod_radius, place_.radius};
  Fate fate{0.0, 1.0};
  for (std::size_t j = 0; j < after_.size(); ++j) {
    const double away = middle(static_cast<int>(j)) - z;
    const double view = to_cylinder(pair, away - step_ / 2, away + step_ / 2);
    fate.cylinder += view * after_[j].cylinder;
    fate.beyond += view * (after_[j].beyond - 1);
  }
  return fate;
}

}  // namespace cw
