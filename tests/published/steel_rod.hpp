#pragma once

#include "solver/field/nonlinear_field.hpp"
#include "tests/published/reference/time_domain.hpp"
#include "tests/published/solve_section.hpp"

namespace cw::published {

/// A slice of an endless solid bar with the axial field H0 at its surface.
struct SteelRod {
  double conductivity;  ///< [S/m]
  double hertz;
  double peak_field;   ///< H0 [A/m] PEAK
  double radius;       ///< [m]
  double finer = 0.5;  ///< scale of the mesh
};

/// Surface impedance E/H [ohm] of the bar by the solver under test; power is H0^2 Re Z/2.
Complex surface_impedance(const SteelRod& rod, const EffectiveReluctivity& law);

/// Effective skin depth at its surface [m].
double surface_depth(const SteelRod& rod, const EffectiveReluctivity& law);

}  // namespace cw::published
