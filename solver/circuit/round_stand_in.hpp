#pragma once

namespace cw {

/// Power in a long bar of rectangular section in a uniform axial field, over that in a thick plate
/// of the same surface, both sides counted: 1 for thin skin, less when the skin depth is comparable
/// with the section. Sizes in skin depths. From the double Fourier series of H in the rectangle:
/// P/(Rs H^2 perimeter), S = j w mu w h sum 64/(pi^4 m^2 n^2) l/(k^2 + l), l = pi^2 (m^2/w^2 +
/// n^2/h^2), m and n odd. Source: separation of variables, as in texts on eddy currents in bars
/// (for example R. L. Stoll, The Analysis of Eddy Currents, from memory).
double rectangle_power(double width, double thickness);

/// The same for a round bar: F(a/d) of the solid cylinder, Re[(1 + j) I1(ka)/I0(ka)].
double round_power(double diameter);

/// A section that is not round.
enum class BarSection { square, flat, hexagon };

/// The round bar that replaces it in this program.
struct RoundStandIn {
  double diameter = 0.0;  ///< of the same perimeter, so of the same heated surface [m]
  /// Metal area of the true section over that of the round one: multiply the density by it;
  /// otherwise heat content and time come out too large.
  double mass_ratio = 1.0;
  /// Power of the round bar over that of the true one, minus one, in the uniform axial field of a
  /// long coil, for metal with constant permeability; the stronger heating of corners in a real
  /// coil is not included.
  double power_error = 0.0;
};

/// `across` [m]: side of a square, distance between the flats of a hexagon, width of a flat;
/// `thickness` of a flat, not used otherwise; `skin_depth` [m] in the metal. The hexagon's error is
/// half the square's: its corners turn less, and the circle has none (estimate).
RoundStandIn round_stand_in(BarSection section, double across, double thickness, double skin_depth);

}  // namespace cw
