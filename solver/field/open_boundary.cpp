#include "solver/field/open_boundary.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/fem/potential.hpp"

namespace cw {

namespace {

using std::numbers::pi;

/// P_l^1(x) for l = 1..degrees, without the Condon-Shortley sign: P_1^1 = sin(theta).
Eigen::VectorXd associated_legendre(double x, int degrees) {
  Eigen::VectorXd p(degrees);
  const double s = std::sqrt(std::max(0.0, 1 - x * x));
  p[0] = s;
  if (degrees > 1) p[1] = 3 * s * x;
  for (int l = 3; l <= degrees; ++l)
    p[l - 1] = ((2 * l - 1) * x * p[l - 2] - l * p[l - 3]) / (l - 1);
  return p;
}

std::vector<int> nodes_of(const std::vector<BorderEdge>& edges) {
  std::vector<int> nodes;
  for (const BorderEdge& e : edges)
    for (const int node : {e.from, e.middle, e.to}) nodes.push_back(node);
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

/// The part of one edge in 2 pi int N_i P_l^1 r dl.
void add_moments(const Mesh& mesh, const BorderEdge& e, const std::vector<int>& nodes,
                 Eigen::MatrixXd& moments) {
  const auto column = [&](int node) {
    return std::lower_bound(nodes.begin(), nodes.end(), node) - nodes.begin();
  };
  for (const auto& [t, theta, at, area] : circle_points(mesh, e)) {
    const Eigen::VectorXd p =
        associated_legendre(std::cos(theta), static_cast<int>(moments.rows()));
    const double own = area / potential_weight(mesh, at).value;
    const auto add = [&](int node, double shape) {
      const double share = potential_weight(mesh, mesh.nodes[node]).value * own;
      moments.col(column(node)) += share * shape * p;
    };
    add(e.from, (1 - t) * (1 - 2 * t));
    add(e.middle, 4 * t * (1 - t));
    add(e.to, t * (2 * t - 1));
  }
}

}  // namespace

std::array<CirclePoint, 5> circle_points(const Mesh& mesh, const BorderEdge& edge) {
  // Five-point Gauss-Legendre rule on [0, 1]. Source: Abramowitz & Stegun, table 25.4 (digits from
  // memory).
  constexpr std::array<double, 5> point{0.046910077030668, 0.230765344947158, 0.5,
                                        0.769234655052842, 0.953089922969332};
  constexpr std::array<double, 5> weight{0.118463442528095, 0.239314335249683, 0.284444444444444,
                                         0.239314335249683, 0.118463442528095};
  const double radius = mesh.open_radius;
  const auto polar = [&](int node) {
    return std::atan2(mesh.nodes[node].r, mesh.nodes[node].z - mesh.centre.z);
  };
  const double from = polar(edge.from), to = polar(edge.to);
  std::array<CirclePoint, 5> points{};
  for (std::size_t q = 0; q < points.size(); ++q) {
    const double theta = from + point[q] * (to - from), s = std::sin(theta);
    points[q] = {point[q],
                 theta,
                 {radius * s, mesh.centre.z + radius * std::cos(theta)},
                 2 * pi * radius * radius * s * std::abs(to - from) * weight[q]};
  }
  return points;
}

OpenBoundary::OpenBoundary(const Mesh& mesh) : radius_(mesh.open_radius) {
  std::vector<BorderEdge> edges;
  std::copy_if(mesh.border.begin(), mesh.border.end(), std::back_inserter(edges),
               [](const BorderEdge& e) { return e.side == Side::open; });
  if (edges.empty()) return;
  nodes_ = nodes_of(edges);
  const int degrees = static_cast<int>(edges.size());
  moments_ = Eigen::MatrixXd::Zero(degrees, static_cast<Eigen::Index>(nodes_.size()));
  for (const BorderEdge& e : edges) add_moments(mesh, e, nodes_, moments_);
  norm_.resize(degrees);
  for (int l = 1; l <= degrees; ++l)
    norm_[l - 1] = 2 * pi * radius_ * radius_ * 2 * l * (l + 1) / (2.0 * l + 1);
}

Eigen::MatrixXd OpenBoundary::stiffness() const {
  Eigen::VectorXd scale(norm_.size());
  for (Eigen::Index l = 1; l <= norm_.size(); ++l)
    scale[l - 1] = static_cast<double>(l) / (mu0 * radius_ * norm_[l - 1]);
  return moments_.transpose() * scale.asDiagonal() * moments_;
}

Eigen::VectorXcd OpenBoundary::coefficients(const Eigen::VectorXcd& potential) const {
  Eigen::VectorXcd on_circle(static_cast<Eigen::Index>(nodes_.size()));
  for (std::size_t i = 0; i < nodes_.size(); ++i) on_circle[i] = potential[nodes_[i]];
  return (moments_ * on_circle).cwiseQuotient(norm_.cast<std::complex<double>>());
}

Eigen::VectorXd OpenBoundary::uniform_field() const {
  // A0 = r/2 is degree 1 with coefficient R/2. Its own tangential H is 2 nu0 A0/R, and that of the
  // scattered part A - A0 is -nu0 (A - A0)/R: together 3 nu0 A0/R on the right-hand side.
  return (3.0 / (mu0 * radius_)) * (0.5 * radius_) * moments_.row(0).transpose();
}

double OpenBoundary::exterior_energy(const Eigen::VectorXcd& potential) const {
  if (!present()) return 0.0;
  Eigen::VectorXcd on_circle(static_cast<Eigen::Index>(nodes_.size()));
  for (std::size_t i = 0; i < nodes_.size(); ++i) on_circle[i] = potential[nodes_[i]];
  return 0.5 * std::real(on_circle.dot(stiffness() * on_circle));
}

std::array<std::complex<double>, 2> exterior_flux(const Mesh& mesh,
                                                  const Eigen::VectorXcd& coefficients, Point p) {
  const double z = p.z - mesh.centre.z, rho = std::hypot(p.r, z), x = z / rho, s = p.r / rho;
  const int degrees = static_cast<int>(coefficients.size());
  const Eigen::VectorXd p1 = associated_legendre(x, degrees + 1);
  // B_rho = (1/(rho sin)) d(sin A)/dtheta: with A ~ P_l^1 it is l(l+1) P_l / rho; B_theta = l A /
  // rho.
  std::complex<double> radial = 0, polar = 0;
  double legendre = x, previous = 1, fall = mesh.open_radius / rho;
  for (int l = 1; l <= degrees; ++l) {
    fall *= mesh.open_radius / rho;
    radial += coefficients[l - 1] * fall * (l * (l + 1.0) * legendre / rho);
    polar += coefficients[l - 1] * fall * (l * p1[l - 1] / rho);
    const double next = ((2 * l + 1) * x * legendre - l * previous) / (l + 1);
    previous = legendre;
    legendre = next;
  }
  return {radial * s + polar * x, radial * x - polar * s};
}

}  // namespace cw
