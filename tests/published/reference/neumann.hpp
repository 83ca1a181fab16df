#pragma once

#include "tests/published/reference/loops.hpp"

namespace cw::reference {

/// An open helix of round conductor: mean radius, pitch, conductor (tube) radius [m], turns >= any
/// positive number, whole or not.
struct Helix {
  double radius;
  double pitch;
  double conductor_radius;
  double turns;
};

/// Inductance in air [H] of the open helix: Neumann's double integral over the filament with the
/// distance d replaced by sqrt(d^2 + a^2), a the conductor radius. The integrand depends on the
/// angle between the two points only, so one integral is left. Error below 1e-10.
double helix_inductance(const Helix& helix);

/// The same regularisation for n = ceil(turns) coaxial rings at pitch turns pitch/n, each of weight
/// turns/n in current and in voltage [H].
double helix_rings_inductance(const Helix& helix);

/// A plane or conical spiral: radius and height run linearly with the angle from the first to the
/// last point [m]. With equal radii a helix.
struct Spiral {
  double first_radius;
  double last_radius;
  double height;
  double conductor_radius;
  double turns;
};

/// As helix_inductance, by the full double integral: dense Gauss panels, graded about the point
/// itself. Error below 1e-8.
double spiral_inductance(const Spiral& spiral);

/// As helix_rings_inductance; ring k has the radius and height of the spiral at (k + 1/2)/n.
double spiral_rings_inductance(const Spiral& spiral);

}  // namespace cw::reference
