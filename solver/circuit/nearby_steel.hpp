#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// The metal of an object that happens to lie near the coil.
struct NearbyMetal {
  double resistivity = 0.0;   ///< [ohm m]
  double permeability = 1.0;  ///< relative
};

/// A closed ring of round wire: a finger ring, the rim of a clamp.
struct NearbyRing {
  double diameter = 0.0;  ///< of its centre line [m]
  double wire = 0.0;      ///< thickness [m], well below the diameter
};

/// Power [W] in a ring whose plane is perpendicular to a flux density of `flux` [T] rms: the
/// voltage w B pi a^2 over its impedance, with resistance by skin effect, inductance mu0 a
/// (ln(8a/b) - 2) and internal inductance. The field is taken as uniform over the ring; its
/// reaction on the coil is left out. Source: transformer with a shorted secondary; inductance of a
/// ring by Maxwell, Treatise.
double ring_power(const NearbyRing& ring, const NearbyMetal& metal, Frequency f, double flux);

/// Power [W] in a bracket with a surface of `area` [m2] in this flux density: surface resistance
/// times (1.5 H)^2, since the largest field on a shielding sphere is 1.5 times the undisturbed one
/// (W. R. Smythe, from memory). An upper estimate for compact parts; edges and tips may take more.
double bracket_power(double area, const NearbyMetal& metal, Frequency f, double flux);

}  // namespace cw
