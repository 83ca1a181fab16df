#include "materials/effective_permeability.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace cw {

namespace {

/// J(H) through the points of a table: piecewise cubic, monotone, constant beyond the last.
class SmoothPolarisation {
 public:
  explicit SmoothPolarisation(const MagnetisationCurve& curve) : field_(curve.field) {
    for (std::size_t i = 0; i < field_.size(); ++i)
      value_.push_back(curve.flux_density[i] - mu0 * field_[i]);
    // Rounding in a printed table may let J fall.
    for (std::size_t i = 1; i < value_.size(); ++i) value_[i] = std::max(value_[i], value_[i - 1]);
    slope_.assign(field_.size(), 0.0);
    for (std::size_t i = 1; i + 1 < field_.size(); ++i) slope_[i] = middle_slope(i);
    // Linear from the origin along the first secant: the initial permeability is that of the table.
    slope_.front() = secant(0);
  }

  double operator()(double field) const {
    if (field >= field_.back()) return value_.back();
    const auto after = std::upper_bound(field_.begin(), field_.end(), field);
    const auto i = static_cast<std::size_t>(after - field_.begin()) - 1;
    const double h = field_[i + 1] - field_[i], t = (field - field_[i]) / h;
    return value_[i] + h * t *
                           (slope_[i] + t * (3 * secant(i) - 2 * slope_[i] - slope_[i + 1] +
                                             t * (slope_[i] + slope_[i + 1] - 2 * secant(i))));
  }

 private:
  [[nodiscard]] double secant(std::size_t i) const {
    return (value_[i + 1] - value_[i]) / (field_[i + 1] - field_[i]);
  }

  /// Weighted harmonic mean of the secants on both sides.
  [[nodiscard]] double middle_slope(std::size_t i) const {
    const double before = secant(i - 1), after = secant(i);
    if (before <= 0.0 || after <= 0.0) return 0.0;
    const double h0 = field_[i] - field_[i - 1], h1 = field_[i + 1] - field_[i];
    return 3 * (h0 + h1) / ((2 * h1 + h0) / before + (h1 + 2 * h0) / after);
  }

  std::vector<double> field_, value_, slope_;
};

/// Mean of integrand(sin t) over a quarter period. In deep saturation B changes within a small part
/// of it near H = 0, so panels shrink towards t = 0. Gauss-Legendre, 8 points. Source: M.
/// Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, table 25.4 (from memory).
template <class Integrand>
double quarter_mean(Integrand integrand) {
  constexpr std::array<double, 4> node{0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                       0.9602898564975363};
  constexpr std::array<double, 4> weight{0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                         0.1012285362903763};
  double sum = 0.0;
  double high = 1.0;
  for (int panel = 0; panel < 28; ++panel) {
    const double low = panel == 27 ? 0.0 : 0.5 * high;
    const double middle = 0.5 * (low + high), half = 0.5 * (high - low);
    for (std::size_t k = 0; k < node.size(); ++k)
      for (const double x : {middle - half * node[k], middle + half * node[k]})
        sum += half * weight[k] * integrand(std::sin(0.5 * std::numbers::pi * x));
    high = low;
  }
  return sum;
}

}  // namespace

FluxCurve flux_curve(const Magnetisation& magnetisation) {
  const double js = magnetisation.saturation.value, a = magnetisation.half_field.value;
  return [js, a](double h) { return mu0 * h + js * h / (h + a); };
}

FluxCurve flux_curve(const MagnetisationCurve& curve) {
  return [j = SmoothPolarisation(curve)](double h) { return mu0 * h + j(h); };
}

FluxCurve flux_curve(const Material& material) {
  if (material.magnetisation_curve) return flux_curve(*material.magnetisation_curve);
  if (material.magnetisation) return flux_curve(*material.magnetisation);
  throw std::invalid_argument(material.name + " is not magnetic: it has no magnetisation");
}

double effective_flux(const FluxCurve& flux, double peak_field, PermeabilityLaw law) {
  if (law == PermeabilityLaw::peak) return flux(peak_field);
  if (law == PermeabilityLaw::fundamental)
    return 2 * quarter_mean([&](double s) { return flux(peak_field * s) * s; });
  return std::sqrt(2 * quarter_mean([&](double s) {
                     const double b = flux(peak_field * s);
                     return b * b;
                   }));
}

double magnetisation_share(const Magnetisation& magnetisation, Temperature t) {
  return magnetisation.saturation_at(t) / magnetisation.saturation.value;
}

}  // namespace cw
