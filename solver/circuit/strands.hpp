#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// A bundle of insulated round strands, twisted so that each carries the same current.
struct Bundle {
  int strands = 0;
  double strand_radius = 0.0;  ///< bare metal [m]
  double conductivity = 0.0;   ///< [S/m]
  /// Strand length over bundle length. 1.02: common practice, no source.
  double lay_factor = 1.02;
};

/// AC over DC resistance of one isolated round strand. Exact.
/// Source: Kelvin functions, Rac/Rdc = Re[q I0(q)/(2 I1(q))], q = (1 + j) radius/delta.
double strand_resistance_factor(double radius, double conductivity, Frequency f);

/// Eddy loss [W/m] of one round strand without net current in a uniform transverse field of H_rms
/// [A/m]: P' = 2 pi omega mu0 a^2 H_rms^2 |Im(I2(ka)/I0(ka))|, k = (1 + j)/delta. Exact; at low
/// frequency pi sigma omega^2 (mu0 H_rms)^2 a^4/4. The field is that of all other currents at the
/// place of the strand. Source: the round wire in a transverse alternating field, for example W. R.
/// Smythe, Static and Dynamic Electricity (from memory).
double strand_proximity_loss(double radius, double conductivity, Frequency f, double H_rms);

/// Resistance of the bundle at direct current [ohm/m of bundle], lay included.
double bundle_dc_resistance(const Bundle& b);

/// Loss of the bundle [W/m of bundle] at a total current I_rms [A]: skin effect in every strand,
/// and proximity loss with H2_mean [A^2/m^2]. H2_mean is the mean over the bundle's section of the
/// squared transverse rms field, including its own (alone in air, round, radius b: I^2/(8 pi^2
/// b^2)). Valid while the strands share the current evenly and a strand is small compared with the
/// bundle.
double bundle_loss(const Bundle& b, Frequency f, double I_rms, double H2_mean);

}  // namespace cw
