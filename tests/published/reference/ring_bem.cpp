#include "tests/published/reference/ring_bem.hpp"

#include <Eigen/Dense>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/ellint_rd.hpp>
#include <boost/math/special_functions/ellint_rf.hpp>

namespace cw::reference {
namespace {

/// Martensen-Kress weights: integral over [0, 2 pi] of ln(4 sin^2((t_0 - s)/2)) f(s) ds equals
/// sum_j weight[j] f(t_j), t_j = 2 pi j/points (Kress, Linear Integral Equations, 12.3; from
/// memory).
Eigen::VectorXd log_weights(int points) {
  const int half = points / 2;
  Eigen::VectorXd weight(points);
  for (int j = 0; j < points; ++j) {
    const double t = 2.0 * kPi * j / points;
    double sum = 0.0;
    for (int m = 1; m < half; ++m) {
      sum += std::cos(m * t) / m;
    }
    weight[j] = -2.0 * kPi / half * sum - kPi * std::cos(half * t) / (half * half);
  }
  return weight;
}

/// Factor of ln(distance^2) in Maxwell's mutual inductance, smooth:
/// -(mu0/pi) sqrt(r1 r2) [(2/k) E(k') - k K(k')].
double log_factor(double r1, double r2, double z) {
  const double far = (r1 + r2) * (r1 + r2) + z * z;
  const double k2 = 4.0 * r1 * r2 / far;
  const double k = std::sqrt(k2);
  const double first = boost::math::ellint_rf(0.0, k2, 1.0);
  const double second = first - (1.0 - k2) / 3.0 * boost::math::ellint_rd(0.0, k2, 1.0);
  return -kMu0 / kPi * std::sqrt(r1 * r2) * (2.0 / k * second - k * first);
}

/// The collocation points of all rings, ring after ring.
struct Surface {
  Eigen::VectorXd r;
  Eigen::VectorXd z;
  int points;
  int rings;
};

Surface surface_of(const RingRow& row, int points) {
  Surface surface{Eigen::VectorXd(row.count * points), Eigen::VectorXd(row.count * points), points,
                  row.count};
  for (int i = 0; i < row.count * points; ++i) {
    const double t = 2.0 * kPi * (i % points) / points;
    surface.r[i] = row.torus.mean_radius + row.torus.section_radius * std::cos(t);
    const int ring = i / points;
    surface.z[i] = row.pitch * ring + row.torus.section_radius * std::sin(t);
  }
  return surface;
}

/// Flux [Wb] through point i's loop per unit current per radian at point j, weights included.
Eigen::MatrixXd flux_matrix(const RingRow& row, const Surface& s) {
  const Eigen::VectorXd weight = log_weights(s.points);
  const double step = 2.0 * kPi / s.points;
  const double a = row.torus.section_radius;
  Eigen::MatrixXd matrix(s.r.size(), s.r.size());
  for (int i = 0; i < s.r.size(); ++i) {
    for (int j = 0; j <= i; ++j) {
      const double ri = s.r[i];
      if (i / s.points != j / s.points) {
        matrix(i, j) = step * mutual_inductance(ri, s.r[j], s.z[i] - s.z[j]);
      } else {
        const double log = log_factor(ri, s.r[j], s.z[i] - s.z[j]);
        const double chord = 2.0 * std::sin(0.5 * step * (i - j));
        const double smooth =
            i == j ? kMu0 * ri * (std::log(8.0 * ri / a) - 2.0)
                   : mutual_inductance(ri, s.r[j], s.z[i] - s.z[j]) - log * std::log(chord * chord);
        matrix(i, j) = weight[i - j] * log + step * smooth;
      }
      matrix(j, i) = matrix(i, j);
    }
  }
  return matrix;
}

/// The rod's share of the same matrix: 2 mu0 r r' int C K1(alpha r) K1(alpha r') cos(alpha dz).
Eigen::MatrixXcd rod_matrix(const Surface& s, const Rod& rod, double frequency, double step) {
  const double gap = s.r.minCoeff() - rod.radius;
  const double reach = s.z.maxCoeff() - s.z.minCoeff();
  const std::vector<double> edges = graded_edges(1.0 / reach, 20.0 / gap);
  const GaussRule& rule = gauss_rule(8);
  const Eigen::Index nodes = static_cast<Eigen::Index>(rule.node.size());
  const Eigen::Index count = static_cast<Eigen::Index>(edges.size() - 1) * nodes;
  Eigen::MatrixXd wave(s.r.size(), 2 * count);
  Eigen::VectorXcd answer(2 * count);
  for (Eigen::Index q = 0; q < count; ++q) {
    const double width = edges[q / nodes + 1] - edges[q / nodes];
    const double alpha = edges[q / nodes] + width * rule.node[q % nodes];
    answer[2 * q] = answer[2 * q + 1] =
        2.0 * kMu0 * step * width * rule.weight[q % nodes] * rod_answer(rod, frequency, alpha);
    for (int i = 0; i < s.r.size(); ++i) {
      const double size = s.r[i] * boost::math::cyl_bessel_k(1, alpha * s.r[i]);
      wave(i, 2 * q) = size * std::cos(alpha * s.z[i]);
      wave(i, 2 * q + 1) = size * std::sin(alpha * s.z[i]);
    }
  }
  Eigen::MatrixXcd matrix(s.r.size(), s.r.size());
  matrix.real() = wave * answer.real().asDiagonal() * wave.transpose();
  matrix.imag() = wave * answer.imag().asDiagonal() * wave.transpose();
  return matrix;
}

/// Currents per radian for 1 A in every ring, and the sum of the rings' fluxes [Wb].
template <class Matrix>
auto solve_series(const Matrix& flux, const Surface& s) {
  using Scalar = typename Matrix::Scalar;
  const double step = 2.0 * kPi / s.points;
  Matrix ones = Matrix::Zero(flux.rows(), s.rings);
  for (int i = 0; i < flux.rows(); ++i) {
    ones(i, i / s.points) = 1.0;
  }
  const Matrix response = flux.partialPivLu().solve(ones);
  const Matrix current_of_flux = step * ones.transpose() * response;
  const Matrix ring_flux = current_of_flux.partialPivLu().solve(Matrix::Ones(s.rings, 1));
  struct Result {
    Matrix current;
    Scalar flux;
  };
  return Result{response * ring_flux, ring_flux.sum()};
}

/// Loss [W per ohm of surface resistance] of currents per radian: sum of K^2 2 pi r ds.
template <class Matrix>
double sheet_loss(const Matrix& current, const Surface& s, double a) {
  const double step = 2.0 * kPi / s.points;
  double sum = 0.0;
  for (int i = 0; i < s.r.size(); ++i) {
    sum += step * 2.0 * kPi * s.r[i] * std::norm(current(i, 0)) / a;
  }
  return sum;
}

}  // namespace

ThinSkinRow thin_skin_row(const RingRow& row, int points) {
  const Surface surface = surface_of(row, points);
  const auto solved = solve_series(flux_matrix(row, surface), surface);
  const double loss = sheet_loss(solved.current, surface, row.torus.section_radius);
  const double even = row.count * row.torus.mean_radius / row.torus.section_radius;
  return {solved.flux, loss / even};
}

LoadedRow thin_skin_row_round_rod(const RingRow& row, double coil_rho, const Rod& rod,
                                  double frequency) {
  const Surface surface = surface_of(row, 48);
  const double w = 2.0 * kPi * frequency;
  Eigen::MatrixXcd flux = rod_matrix(surface, rod, frequency, 2.0 * kPi / surface.points);
  flux.real() += flux_matrix(row, surface);
  const auto solved = solve_series(flux, surface);
  const double coil = surface_resistance({coil_rho}, frequency) *
                      sheet_loss(solved.current, surface, row.torus.section_radius);
  const double work = -w * solved.flux.imag();
  return {solved.flux.real(), coil, work, work / (work + coil)};
}

WirePair thin_skin_pair(double spacing_over_diameter, bool same_direction, int points) {
  // Unit section radius; the other wire is the mirror image with the sign of its current.
  const double spacing = 2.0 * spacing_over_diameter;
  const double sign = same_direction ? 1.0 : -1.0;
  const double step = 2.0 * kPi / points;
  const Eigen::VectorXd weight = log_weights(points);
  Eigen::MatrixXd flux(points, points);
  for (int i = 0; i < points; ++i) {
    for (int j = 0; j < points; ++j) {
      const double dx = spacing - std::cos(step * i) - std::cos(step * j);
      const double dy = std::sin(step * i) - std::sin(step * j);
      const double image = step * std::log(dx * dx + dy * dy);
      flux(i, j) = -kMu0 / (4.0 * kPi) * (weight[std::abs(i - j)] + sign * image);
    }
  }
  const Eigen::VectorXd response = flux.partialPivLu().solve(Eigen::VectorXd::Ones(points));
  const double current = step * response.sum();
  const double loss = 2.0 * kPi * step * response.squaredNorm() / (current * current);
  return {loss, 2.0 / current};
}

}  // namespace cw::reference
