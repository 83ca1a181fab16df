#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// A closed round ring that happens to lie in the stray field: finger ring, hoop, bracket loop.
struct DummyRing {
  double radius = 0.0;        ///< of the centreline [m]
  double wire_radius = 0.0;   ///< well below `radius` [m]
  double conductivity = 0.0;  ///< [S/m]
  double permeability = 1.0;  ///< relative
};

/// Resistance and inductance of the ring: skin effect of a round wire as Rdc below one skin depth
/// of radius, else the surface resistance 1/(sigma delta) over its circumference; the external
/// inductance mu0 R (ln(8R/a) - 2), and inside the metal as much reactance as resistance where the
/// skin is thin. Sources: any text on electromagnetism; ring: J. C. Maxwell, Treatise, art. 704
/// (from memory). Steel is taken at its permeability in weak fields.
struct RingImpedance {
  double resistance_ohm = 0.0, reactance_ohm = 0.0;
};
RingImpedance ring_impedance(const DummyRing& ring, Frequency f);

/// Heat in the ring [W] when a flux of `flux_rms` [Wb] would pass through it were it open.
double ring_power(const DummyRing& ring, Frequency f, double flux_rms);

}  // namespace cw
