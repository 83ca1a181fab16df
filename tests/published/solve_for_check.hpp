#pragma once

#include <complex>
#include <string>
#include <vector>

#include "mesh/section.hpp"
#include "solver/field/turns.hpp"
#include "tests/published/reference/layered_cylinder.hpp"

namespace cw::published {

/// A solved section, per 1 A rms in its turns.
struct Checked {
  /// Of impedance [ohm], against the same mesh with all but the turns air.
  std::complex<double> change;
  std::vector<double> loss;  ///< [W] by RegionId
};

/// Meshes and solves as a user's run does: losses at the error that `normal` allows.
/// `media`: air first, then one for every region of the section, whose skin depths are set here.
/// This is the one place that says how the tables of checks (layered cylinders, spheres, discs) are
/// solved.
///
/// The change of impedance is a difference on one mesh, refined for the loaded and for the empty
/// coil to a hundredth of the change: the error in the turns' own field is nearly the same in both
/// and cancels, so that a thin rod that changes 1e-4 of the inductance is still resolved.
Checked solve_for_check(Section section, const Media& media, const TurnSet& turns, Frequency f);

/// Stranded rings `turn.1`, ... of rectangular section added to the section and its media; the set
/// that connects them in series.
TurnSet add_rings(Section& section, Media& media,
                  const std::vector<reference::RectangularRing>& rings);

/// The same rings as the references' filaments.
std::vector<reference::Filament> filaments_of(const std::vector<reference::RectangularRing>& rings);

/// `count` rings with their middle at z = 0: inner radius, radial width, axial width and pitch [m].
struct RingsOfCheck {
  double inner, width, height, pitch;
  int count;
};
std::vector<reference::RectangularRing> rings_of(const RingsOfCheck& rings);

/// A thousandth of a change of impedance [ohm] for its inductive part: of that part itself, or of a
/// third of the whole where permeability and eddy currents cancel or the currents are weak.
double reactance_tolerance(std::complex<double> change);

}  // namespace cw::published
