#pragma once

namespace cw {

/// What the rms-equivalent permeability is worth in a body of finite thickness.
struct LawValidity {
  double depths = 0.0;  ///< half thickness (radius of a bar, half the wall of a tube) / skin depth
  bool valid = true;    ///< power within 2 %
  /// Power found against the true one, relative: between these. Of a saturated bar; less where the
  /// metal is nearly linear.
  double lowest_error = 0.0, highest_error = 0.0;
};

/// `half_thickness` [m]; `skin_depth` [m] at the surface, of the effective permeability there.
/// The figures are those of a solid bar in an axial field, 5 to 200 kA/m, against time stepping of
/// the nonlinear diffusion (tests/published/steel_test.cpp measures them).
/// `permeability_left` = effective permeability at the surface over the initial one: above 0.9 the
/// metal is nearly linear and the law good at any thickness.
LawValidity law_validity(double half_thickness, double skin_depth, double permeability_left);

}  // namespace cw
