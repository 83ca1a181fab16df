#pragma once

#include <optional>

namespace cw {

/// The centreline of a single-layer winding: helix, cone or flat spiral.
struct Helix {
  double radius = 0.0;  ///< coil axis to the conductor's centreline, at the start [m]
  /// The same at the end, linear along the winding; left out: constant.
  std::optional<double> radius_end = std::nullopt;
  double pitch = 0.0;        ///< axial advance per turn [m]; 0 for a flat spiral
  double turns = 0.0;        ///< may be fractional
  double wire_radius = 0.0;  ///< outer radius of the conductor [m]
};

/// Number of rings that represent a winding: its turns rounded up, with a tolerance of a millionth
/// of a turn. Each ring carries turns/ring_count of the current and of the voltage.
int ring_count(double turns);

/// Length of the winding over the length of its rings, sqrt(1 + (advance/(2 pi R))^2), R the mean
/// radius and advance the axial and radial step per turn. The resistance of the copper is larger by
/// this factor.
double helix_length_factor(const Helix& h);

/// Partial self-inductance in air [H] of the open winding, taken as a filament: Neumann's double
/// integral with 1/sqrt(d^2 + a^2), a = wire_radius. It includes the winding's own axial current
/// but not the run that closes the circuit (see leads.hpp). Relative error below 1e-6. Source: F.
/// E. Neumann, Abh. Preuss. Akad. Wiss. 1845 (from memory).
double helix_inductance(const Helix& h);

/// Inductance in air [H] of the rings that represent the winding, regularised in the same way: n =
/// ring_count rings over the true length, at pitch turns * pitch/n, sum of (turns/n)^2 M_ij.
double ring_inductance(const Helix& h);

/// Correction to an inductance computed with rings [H]: helix_inductance - ring_inductance. The
/// choice of regularisation nearly cancels in it. Throws std::invalid_argument for an impossible
/// winding.
double helix_correction(const Helix& h);

}  // namespace cw
