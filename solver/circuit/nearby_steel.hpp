#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// Metal of something that happens to lie near the coil.
struct NearbyMetal {
  double resistivity = 0.0;   ///< [ohm m]
  double permeability = 1.0;  ///< relative
};

/// A closed ring of round wire: a finger ring, the rim of a clamp.
struct NearbyRing {
  double diameter = 0.0;  ///< of its centre line [m]
  double wire = 0.0;      ///< thickness [m], well below the diameter
};

/// Power [W] that a ring takes whose plane stands across a flux density of `flux` [T] rms: the
/// voltage w B pi a^2 over its impedance, resistance by skin effect, inductance mu0 a (ln(8a/b) -
/// 2) and internal. The field is taken as even over the ring; its reaction on the coil is left out.
/// Source: transformer with a shorted secondary; inductance of a ring by Maxwell, Treatise.
double ring_power(const NearbyRing& ring, const NearbyMetal& metal, Frequency f, double flux);

/// Power [W] that a bracket takes whose surface of `area` [m2] lies in that flux: surface
/// resistance times (1.5 H)^2, the largest field on a shielding sphere being 1.5 times the one
/// without it (W. R. Smythe, from memory). An upper guess for compact parts; edges and tips may
/// take more.
double bracket_power(double area, const NearbyMetal& metal, Frequency f, double flux);

}  // namespace cw
