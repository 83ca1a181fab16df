#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/law.hpp"

namespace cw {

/// A value with its band and its source; `low == high == value` if no band is stated.
struct Sourced {
  double value = 0.0, low = 0.0, high = 0.0;
  Source source;
};

/// Saturating magnetisation J(H,T) = Js(T) H/(H + a(T)), Froehlich-Kennelly form. H peak [A/m], J
/// peak [T]. Js(T) = Js20 m(T)/m(20 degC), m = (1 - (T/law_curie)^n)^(1/n); a(T) = a20 Js(T)/Js20;
/// Js = 0 above `curie`.
struct Magnetisation {
  Sourced saturation;     ///< Js at 20 degC [T]
  Sourced half_field;     ///< a at 20 degC [A/m]: J is half of Js at H = a
  Temperature curie;      ///< magnetism ends here
  Temperature law_curie;  ///< Tc inside m(T); differs from `curie` where a transformation ends
                          ///< magnetism first
  double exponent = 2.9;
  Source temperature_law;

  /// Js(T) [T]; 0 at and above `curie`.
  [[nodiscard]] double saturation_at(Temperature t) const;
  /// a(T) [A/m]; 0 where Js is.
  [[nodiscard]] double half_field_at(Temperature t) const;
  /// J [T] at a peak field [A/m], odd in the field.
  [[nodiscard]] double polarisation(double peak_field, Temperature t) const;
};

/// A measured magnetisation curve at 20 degC, peak values, linear between points; starts at (0, 0),
/// strictly rising, and J = B - mu0 H never falls. J is constant above the last point.
struct MagnetisationCurve {
  std::vector<double> field;         ///< H peak [A/m]
  std::vector<double> flux_density;  ///< B peak [T]
  Source source;
  double uncertainty = 0.0;  ///< of B, relative half-width of the band; 0 = not stated
};

/// A change of phase in the solid with a latent heat.
struct Transformation {
  Temperature at;
  double latent = 0.0;  ///< [J/kg]
  Source source;
};

struct Melting {
  Temperature solidus, liquidus;
  double latent = 0.0;  ///< [J/kg]
  std::vector<Source> sources;
};

/// All properties of a substance for the solvers. SI units.
struct Material {
  std::string name;          ///< "steel-high-carbon"
  std::string title;         ///< "Carbon steel, eutectoid (0.75-0.85 % C)"
  Sourced density;           ///< [kg/m3]
  Law resistivity;           ///< [ohm m]; an insulator has +infinity
  Law thermal_conductivity;  ///< [W/(m K)]
  Law heat_capacity;         ///< [J/(kg K)]
  Sourced emissivity;        ///< the default surface, as used in a shop
  std::vector<std::pair<std::string, Sourced>> emissivity_by_surface;
  Sourced relative_permeability;  ///< constant, of non-magnetic metals; 1 if `magnetisation` is set
  std::optional<Magnetisation> magnetisation;  ///< magnetic metals
  /// The B(H) table of the file, if there is one; `magnetisation` then holds the Froehlich fit
  /// through it (regression of H/J on H), which extends it beyond the table and to other
  /// temperatures.
  std::optional<MagnetisationCurve> magnetisation_curve;
  std::optional<Melting> melting;
  /// For display: their latent heats are already inside `heat_capacity`, spread over 10 K each.
  std::vector<Transformation> transformations;
  std::vector<std::string> notes;

  [[nodiscard]] bool insulator() const;
  /// Conductivity [S/m] at T; 0 for an insulator.
  [[nodiscard]] double conductivity(Temperature t) const;
  /// Small-signal relative permeability at T: 1 + Js/(mu0 a) below the Curie point, 1 above; else
  /// the constant.
  [[nodiscard]] double initial_permeability(Temperature t) const;
};

/// Skin depth sqrt(2 rho / (omega mu)) [m]; infinity for an insulator.
/// Source: any text on electromagnetism.
double skin_depth(double conductivity, double relative_permeability, Frequency f);

}  // namespace cw
