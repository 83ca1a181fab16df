#pragma once

namespace cw {

/// Accuracy of the rms-equivalent permeability in a body of finite thickness.
struct LawValidity {
  double depths = 0.0;  ///< half thickness (radius of a bar, half the wall of a tube) / skin depth
  bool valid = true;    ///< power within 2 %
  /// Relative error of the power is between these. For a saturated bar; smaller if the metal is
  /// nearly linear.
  double lowest_error = 0.0, highest_error = 0.0;
};

/// `half_thickness` [m]; `skin_depth` [m] at the surface, with the effective permeability there.
/// The figures are those of a solid bar in an axial field, 5 to 200 kA/m, compared with time
/// stepping of the nonlinear diffusion (tests/published/steel_test.cpp measures them).
/// `permeability_left` = effective permeability at the surface over the initial one: above 0.9 the
/// metal is nearly linear and the law is accurate at any thickness.
LawValidity law_validity(double half_thickness, double skin_depth, double permeability_left);

}  // namespace cw
