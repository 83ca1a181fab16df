#include "materials/material.hpp"

#include <cmath>
#include <limits>

namespace cw {
namespace {

/// Superellipse law of spontaneous magnetisation, m = (1 - (T/Tc)^n)^(1/n), T in kelvin.
/// Source: Perevertov 2025, arXiv:2512.24771.
double superellipse(Temperature t, Temperature critical, double exponent) {
  const double ratio = t.kelvin / critical.kelvin;
  if (ratio >= 1.0) return 0.0;
  return std::pow(1.0 - std::pow(ratio, exponent), 1.0 / exponent);
}

}  // namespace

double Magnetisation::saturation_at(Temperature t) const {
  if (t >= curie) return 0.0;
  const double cold = superellipse(Temperature::celsius(20.0), law_curie, exponent);
  return saturation.value * superellipse(t, law_curie, exponent) / cold;
}

double Magnetisation::half_field_at(Temperature t) const {
  return half_field.value * saturation_at(t) / saturation.value;
}

double Magnetisation::polarisation(double peak_field, Temperature t) const {
  const double js = saturation_at(t);
  if (js <= 0.0) return 0.0;
  return js * peak_field / (std::abs(peak_field) + half_field_at(t));
}

bool Material::insulator() const {
  return std::isinf(resistivity(Temperature::celsius(20.0)));
}

double Material::conductivity(Temperature t) const {
  const double rho = resistivity(t);
  return std::isinf(rho) ? 0.0 : 1.0 / rho;
}

double Material::initial_permeability(Temperature t) const {
  if (!magnetisation) return relative_permeability.value;
  const double js = magnetisation->saturation_at(t);
  return js > 0.0 ? 1.0 + js / (mu0 * magnetisation->half_field_at(t)) : 1.0;
}

double skin_depth(double conductivity, double relative_permeability, Frequency f) {
  if (conductivity <= 0.0) return std::numeric_limits<double>::infinity();
  return std::sqrt(2.0 / (f.omega() * mu0 * relative_permeability * conductivity));
}

}  // namespace cw
