#pragma once

#include <Eigen/Core>
#include <array>
#include <concepts>
#include <numbers>

namespace cw {

/// One full turn round the axis [rad].
inline constexpr double two_pi = 2.0 * std::numbers::pi;

/// One element's shape functions sampled at one quadrature point of the (r, z) half-plane.
template <int N>
struct Sample {
  Eigen::Vector<double, N> value;        ///< N_i
  Eigen::Matrix<double, 2, N> gradient;  ///< rows d/dr, d/dz [1/m]
  double radius;                         ///< r [m]; r > 0, rules use interior points only
  double area;                           ///< quadrature weight times |det J| [m^2]

  /// The volume that the sample represents in an integral over the solid of revolution [m^3].
  [[nodiscard]] double volume() const { return two_pi * radius * area; }
};

template <int N>
using ElementMatrix = Eigen::Matrix<double, N, N>;

/// A form maps one sample to its integrand; it does not depend on meshes, loops or dofs.
template <class F, int N>
concept BilinearForm = requires(const F form, const Sample<N>& s) {
  { form(s) } -> std::convertible_to<ElementMatrix<N>>;
};

/// Flux density of the azimuthal potential N_i e_phi [1/m]; column i is (B_r, B_z):
/// B_r = -dN/dz,  B_z = (1/r) d(r N)/dr = dN/dr + N/r,  that is grad(r N)/r turned by 90 degrees.
/// N/r stays bounded at the axis because A = 0 is imposed there.
template <int N>
Eigen::Matrix<double, 2, N> flux_operator(const Sample<N>& s) {
  Eigen::Matrix<double, 2, N> b;
  b.row(0) = -s.gradient.row(1);
  b.row(1) = s.gradient.row(0) + s.value.transpose() / s.radius;
  return b;
}

/// Magnetic term  (1/mu) grad(r A)/r . grad(r v)/r  [1/(H m)].
struct Reluctance {
  double nu;  ///< reluctivity 1/mu [m/H], taken constant over the element

  template <int N>
  ElementMatrix<N> operator()(const Sample<N>& s) const {
    const auto b = flux_operator(s);
    return nu * (b.transpose() * b);
  }
};

/// Eddy-current term  sigma A v  [S/m]; j omega times it joins the stiffness.
struct EddyConductance {
  double sigma;  ///< conductivity [S/m]

  template <int N>
  ElementMatrix<N> operator()(const Sample<N>& s) const {
    return sigma * (s.value * s.value.transpose());
  }
};

/// Integral of `Form` over the solid of revolution, with its coefficient given at each sample: K_ij
/// = 2 pi int form_ij r dr dz. [m^2/H] for Reluctance, so x^T K x / 2 is the stored energy [J].
/// Never allocates.
template <class Form, int N, std::size_t Count>
ElementMatrix<N> integrate(const std::array<double, Count>& coefficient,
                           const std::array<Sample<N>, Count>& samples) {
  ElementMatrix<N> k = ElementMatrix<N>::Zero();
  for (std::size_t q = 0; q < Count; ++q)
    k += Form{coefficient[q]}(samples[q]) * samples[q].volume();
  return k;
}

}  // namespace cw
