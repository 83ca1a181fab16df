#include "solver/field/cubic_surplus.hpp"

#include <cmath>
#include <utility>

namespace cw {

namespace {

using Complex = std::complex<double>;

/// The cubic functions of the reference triangle: values, and rows d/dx, d/dy.
struct CubicShapes {
  Eigen::Vector4d value;
  Eigen::Matrix<double, 2, 4> gradient;
};

CubicShapes cubic_shapes(double x, double y) {
  const std::array<double, 3> l{1 - x - y, x, y};
  Eigen::Matrix<double, 2, 3> slope;  // of the barycentric coordinates
  slope << -1, 1, 0,                  //
      -1, 0, 1;
  CubicShapes s;
  for (int k = 0; k < 3; ++k) {
    const int n = (k + 1) % 3;
    const double a = l[k], b = l[n];
    s.value[k] = a * b * (b - a);
    s.gradient.col(k) = (b * b - 2 * a * b) * slope.col(k) + (2 * a * b - a * a) * slope.col(n);
  }
  s.value[3] = l[0] * l[1] * l[2];
  s.gradient.col(3) =
      l[1] * l[2] * slope.col(0) + l[0] * l[2] * slope.col(1) + l[0] * l[1] * slope.col(2);
  return s;
}

const std::array<CubicShapes, 12>& tabulated() {
  static const std::array<CubicShapes, 12> table = [] {
    std::array<CubicShapes, 12> all;
    for (std::size_t q = 0; q < all.size(); ++q)
      all[q] = cubic_shapes(TriangleRule::nodes()[q].x, TriangleRule::nodes()[q].y);
    return all;
  }();
  return table;
}

/// The cubic functions at the point of a second-order sample.
Sample<4> cubic_sample(const CubicShapes& shapes, const Sample<6>& s) {
  const auto& g = s.gradient;
  // Second-order functions reproduce the reference coordinates: x = N1 + (N3 + N4)/2, y = N2 + (N4
  // + N5)/2.
  Eigen::Matrix2d slopes;
  slopes.col(0) = g.col(1) + 0.5 * (g.col(3) + g.col(4));
  slopes.col(1) = g.col(2) + 0.5 * (g.col(4) + g.col(5));
  return {shapes.value, slopes * shapes.gradient, s.radius, s.area};
}

/// Integrals of a triangle with its medium.
struct Integrals {
  Eigen::Matrix4d stiffness = Eigen::Matrix4d::Zero(), mass = Eigen::Matrix4d::Zero();
  Eigen::Matrix<double, 4, 6> stiffness_to = Eigen::Matrix<double, 4, 6>::Zero(),
                              mass_to = Eigen::Matrix<double, 4, 6>::Zero();
  Eigen::Vector4d pull = Eigen::Vector4d::Zero(), volume = Eigen::Vector4d::Zero();
};

Integrals integrals(const EddySystem& system, std::size_t t) {
  const Mesh& mesh = system.mesh();
  Integrals sum;
  const TriangleSamples samples = potential_samples(mesh, t);
  const CubicSamples cubics = cubic_samples(mesh, t);
  for (std::size_t q = 0; q < samples.size(); ++q) {
    const Sample<6>& s = samples[q];
    const Sample<4>& cubic = cubics[q];
    const double volume = s.volume();
    const Eigen::Matrix<double, 2, 6> flux = flux_operator(s);
    const Eigen::Matrix<double, 2, 4> cubic_flux = flux_operator(cubic);
    const Medium& medium = system.medium_at(t, q);
    const Eigen::Matrix<double, 4, 2> weighted =
        medium.reluctivity * volume * cubic_flux.transpose();
    sum.stiffness.noalias() += weighted * cubic_flux;
    sum.stiffness_to.noalias() += weighted * flux;
    sum.volume += volume * cubic.value;
    if (medium.conductivity <= 0) continue;
    const Eigen::Vector4d driven = medium.conductivity * cubic.value;
    sum.mass.noalias() += (volume * driven) * cubic.value.transpose();
    sum.mass_to.noalias() += (volume * driven) * s.value.transpose();
    sum.pull += s.area * driven;
  }
  const Eigen::Vector4d sign = orientation(mesh.triangles[t]);
  sum.stiffness.array() *= (sign * sign.transpose()).array();
  sum.mass.array() *= (sign * sign.transpose()).array();
  for (auto* m : {&sum.stiffness_to, &sum.mass_to}) m->array().colwise() *= sign.array();
  for (auto* v : {&sum.pull, &sum.volume}) v->array() *= sign.array();
  return sum;
}

Eigen::Vector<Complex, 6> nodal_potential(const Mesh& mesh, const Eigen::VectorXcd& potential,
                                          std::size_t t) {
  Eigen::Vector<Complex, 6> a;
  for (int i = 0; i < 6; ++i) a[i] = potential[mesh.triangles[t][i]];
  return a;
}

/// Symmetric, not Hermitian: no conjugate.
Complex plain_product(const Eigen::VectorXcd& a, const Eigen::VectorXcd& b) {
  return (a.transpose() * b).value();
}

/// y += a x, written out: std::complex checks every product for infinities.
void add_multiple(Complex a, const Eigen::VectorXcd& x, Eigen::VectorXcd& y) {
  for (Eigen::Index i = 0; i < x.size(); ++i)
    y[i] += Complex{a.real() * x[i].real() - a.imag() * x[i].imag(),
                    a.real() * x[i].imag() + a.imag() * x[i].real()};
}

}  // namespace

Eigen::Vector4d orientation(const std::array<int, 6>& corners) {
  const auto sign = [&](int from, int to) { return corners[from] < corners[to] ? 1.0 : -1.0; };
  return {sign(0, 1), sign(1, 2), sign(2, 0), 1.0};
}

CubicSamples cubic_samples(const Mesh& mesh, std::size_t t) {
  const TrianglePoints points = triangle_points(mesh, t);
  const TriangleSamples plain = triangle_samples(points);
  // An edge function has the weight at its middle, the bubble that at the centre.
  const auto weight_at = [&](Point p) { return potential_weight(mesh, p).value; };
  const Eigen::Vector4d at_node{weight_at(points[3]), weight_at(points[4]), weight_at(points[5]),
                                weight_at((1.0 / 3) * (points[3] + points[4] + points[5]))};
  CubicSamples samples;
  for (std::size_t q = 0; q < samples.size(); ++q)
    samples[q] = weighed<4>(cubic_sample(tabulated()[q], plain[q]),
                            potential_weight(mesh, place_of(plain[q], points)), at_node);
  return samples;
}

CubicSurplus::CubicSurplus(const EddySystem& system, Frequency f) : system_(system) {
  const Mesh& mesh = system.mesh();
  const auto vertices = static_cast<int>(mesh.vertices),
             edges = static_cast<int>(mesh.nodes.size()) - vertices;
  triangles_.resize(mesh.triangles.size());
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    const Integrals sum = integrals(system, t);
    CubicTriangle& c = triangles_[t];
    c.own.real() = sum.stiffness;
    c.own.imag() = f.omega() * sum.mass;
    c.coupling.real() = sum.stiffness_to;
    c.coupling.imag() = f.omega() * sum.mass_to;
    c.pull = sum.pull;
    c.volume = sum.volume;
    for (std::size_t k = 0; k < 3; ++k) {
      const int middle = mesh.triangles[t][3 + k];
      c.unknown[k] = system.dofs().of_node[middle] == Dofs::fixed ? -1 : middle - vertices;
    }
    c.unknown[3] = edges + static_cast<int>(t);
  }
  double_open_edges();
  invert_diagonal();
}

void CubicSurplus::invert_diagonal() {
  const std::size_t edges = system_.mesh().nodes.size() - system_.mesh().vertices;
  inverse_diagonal_ = Eigen::VectorXcd::Zero(static_cast<Eigen::Index>(edges + triangles_.size()));
  for (const CubicTriangle& c : triangles_)
    for (int i = 0; i < 4; ++i)
      if (c.unknown[i] >= 0) inverse_diagonal_[c.unknown[i]] += c.own(i, i);
  for (Complex& d : inverse_diagonal_)
    if (d != 0.0) d = 1.0 / d;
}

/// For a function as short as an edge, the outside of the open circle is as stiff as the inside.
void CubicSurplus::double_open_edges() {
  const Mesh& mesh = system_.mesh();
  const int vertices = static_cast<int>(mesh.vertices);
  std::vector<char> open(mesh.nodes.size() - mesh.vertices, 0);
  for (const BorderEdge& e : mesh.border)
    if (e.side == Side::open) open[e.middle - vertices] = 1;
  for (CubicTriangle& c : triangles_)
    for (int k = 0; k < 3; ++k)
      if (c.unknown[k] >= 0 && open[c.unknown[k]] != 0) c.own(k, k) *= 2.0;
}

Eigen::Vector4cd CubicSurplus::local(const Eigen::VectorXcd& x, std::size_t t) const {
  Eigen::Vector4cd values;
  for (int i = 0; i < 4; ++i) {
    const int unknown = triangles_[t].unknown[i];
    values[i] = unknown >= 0 ? x[unknown] : Complex{};
  }
  return values;
}

Eigen::VectorXcd CubicSurplus::residual(const FieldSolution& field) const {
  const Mesh& mesh = system_.mesh();
  Eigen::VectorXcd r = Eigen::VectorXcd::Zero(size());
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    const CubicTriangle& c = triangles_[t];
    const RegionId region = mesh.region[t];
    Eigen::Vector4cd rest = -(c.coupling * nodal_potential(mesh, field.potential, t));
    rest += field.loop_voltage[region] * c.pull + field.impressed[region] * c.volume;
    for (int i = 0; i < 4; ++i)
      if (c.unknown[i] >= 0) r[c.unknown[i]] += rest[i];
  }
  if (system_.open().present()) add_outer_space(field.potential, r);
  return r;
}

void CubicSurplus::add_outer_space(const Eigen::VectorXcd& potential,
                                   Eigen::VectorXcd& residual) const {
  const Mesh& mesh = system_.mesh();
  const Eigen::VectorXcd coefficients = system_.open().coefficients(potential);
  for (const BorderEdge& e : mesh.border) {
    if (e.side != Side::open) continue;
    const double sign = e.from < e.to ? 1.0 : -1.0;
    for (const auto& [t, theta, at, area] : circle_points(mesh, e)) {
      const auto flux = exterior_flux(mesh, coefficients, at);
      const Complex tangential_h = (flux[0] * std::cos(theta) - flux[1] * std::sin(theta)) / mu0;
      const double share =
          potential_weight(mesh, mesh.nodes[e.middle]).value / potential_weight(mesh, at).value;
      const double value = sign * share * t * (1 - t) * (2 * t - 1);
      residual[e.middle - static_cast<int>(mesh.vertices)] -= area * value * tangential_h;
    }
  }
}

Eigen::VectorXcd CubicSurplus::apply(const Eigen::VectorXcd& x) const {
  Eigen::VectorXcd y = Eigen::VectorXcd::Zero(size());
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    const CubicTriangle& c = triangles_[t];
    const Eigen::Vector4cd product = c.own * local(x, t);
    for (int i = 0; i < 4; ++i)
      if (c.unknown[i] >= 0) y[c.unknown[i]] += product[i];
  }
  return y;
}

Eigen::VectorXcd CubicSurplus::diagonal_answer(const Eigen::VectorXcd& residual) const {
  return inverse_diagonal_.cwiseProduct(residual);
}

Eigen::VectorXcd CubicSurplus::answer(const Eigen::VectorXcd& residual) const {
  // Flat triangles need many steps, ordinary ones three to twelve.
  constexpr int most_steps = 60;
  constexpr double enough = 1e-4;  // of the initial residual's energy
  Eigen::VectorXcd rest = residual, x = Eigen::VectorXcd::Zero(size());
  Eigen::VectorXcd z = diagonal_answer(rest), direction = z;
  Complex size = plain_product(rest, z);
  const double goal = enough * std::abs(size);
  for (int k = 0; k < most_steps && std::abs(size) > goal; ++k) {
    const Eigen::VectorXcd image = apply(direction);
    const Complex step = size / plain_product(direction, image);
    add_multiple(step, direction, x);
    add_multiple(-step, image, rest);
    z = diagonal_answer(rest);
    const Complex next = plain_product(rest, z);
    add_multiple(next / size, direction, z);
    std::swap(z, direction);
    size = next;
  }
  return x;
}

Eigen::VectorXcd CubicSurplus::load_on_second_order(const Eigen::VectorXcd& x) const {
  const Mesh& mesh = system_.mesh();
  Eigen::VectorXcd f = Eigen::VectorXcd::Zero(system_.unknowns());
  for (std::size_t t = 0; t < triangles_.size(); ++t) {
    const Eigen::Vector<Complex, 6> product = triangles_[t].coupling.transpose() * local(x, t);
    for (int i = 0; i < 6; ++i) {
      const int unknown = system_.dofs().of_node[mesh.triangles[t][i]];
      if (unknown >= 0) f[unknown] -= product[i];
    }
  }
  return f;
}

std::vector<Complex> CubicSurplus::linkage(const Eigen::VectorXcd& x) const {
  const Mesh& mesh = system_.mesh();
  std::vector<Complex> sum(mesh.region_name.size(), 0.0);
  for (std::size_t t = 0; t < triangles_.size(); ++t)
    if (system_.media()[mesh.region[t]].conductivity > 0)
      sum[mesh.region[t]] += triangles_[t].pull.cast<Complex>().cwiseProduct(local(x, t)).sum();
  return sum;
}

}  // namespace cw
