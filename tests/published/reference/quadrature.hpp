#pragma once

#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <vector>

/// Closed forms and boundary-element values the solver is compared with. Nothing here uses a line
/// of the solver. SI units; each function says whether its phasors are peak or rms.
namespace cw::reference {

using Complex = std::complex<double>;

inline constexpr double kPi = std::numbers::pi;
inline constexpr double kMu0 =
    4e-7 * kPi;  ///< [H/m], the value all reference figures were made with
inline constexpr Complex kJ{0.0, 1.0};

/// Gauss-Legendre rule on [0, 1]: exact for polynomials of degree 2 points - 1.
struct GaussRule {
  std::vector<double> node;
  std::vector<double> weight;
};

/// The rule with the given number of points (1..200), computed once and kept.
const GaussRule& gauss_rule(int points);

/// Panel edges 0, width/2^9, width/2^8, ..., width, 2 width, ... up to at least `last`: graded
/// towards 0 for the alpha^2 ln(alpha) behaviour of the kernels, uniform after that for their
/// oscillation.
std::vector<double> graded_edges(double width, double last);

/// Integral of f over [lower, upper] by one Gauss panel.
template <class F>
auto integrate(const F& f, double lower, double upper, int points) {
  const GaussRule& rule = gauss_rule(points);
  decltype(f(lower)) sum{};
  for (std::size_t i = 0; i < rule.node.size(); ++i) {
    sum += rule.weight[i] * f(lower + (upper - lower) * rule.node[i]);
  }
  return (upper - lower) * sum;
}

/// Integral of f over consecutive panels, `points` in each.
template <class F>
auto integrate_panels(const F& f, const std::vector<double>& edges, int points) {
  decltype(f(edges.front())) sum{};
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    sum += integrate(f, edges[i], edges[i + 1], points);
  }
  return sum;
}

}  // namespace cw::reference
