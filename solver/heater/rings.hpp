#pragma once

#include <vector>

#include "solver/heater/coil.hpp"

namespace cw {

/// One ring of the axisymmetric stand-in for the coil.
struct RingPlace {
  double r = 0.0, z = 0.0;  ///< centre of the conductor [m]
  double weight = 1.0;      ///< share of a turn that it represents, in both current and voltage
};

/// Number of rings that represent the coil's turns, and the distance between neighbours [m].
struct RingRow {
  int count = 0;
  double spacing = 0.0;
};

/// ceil(turns) rings, turns * pitch / count apart. Explicit rings: their number, spacing 0.
RingRow ring_row(const Coil& coil);

/// Places of the rings, in winding order. N turns at pitch p become n = ceil(N) rings of weight
/// N/n:
/// - helix, cone: N p/n apart along z, the row centred on z = 0; z rises;
/// - flat: all at z = 0, N p/n apart in radius, each at the mean radius of its turn. The spiral
///   begins at the clear bore, so the innermost ring stands N p/(2 n) further out;
/// - cone: the clear diameter runs linearly from `bore` (first ring) to `bore_end` (last ring);
/// - rings: as written, weight 1.
/// The centre of the conductor is half its radial size outside the clear bore.
std::vector<RingPlace> ring_places(const Coil& coil);

/// The space that the winding occupies, conductors included; for a flat coil, the spiral [m].
struct CoilExtent {
  double inner = 0.0, outer = 0.0;  ///< radii
  double low = 0.0, high = 0.0;     ///< along z
  [[nodiscard]] double middle() const { return 0.5 * (low + high); }
};
CoilExtent extent_of(const Coil& coil);

/// How far the conductor moves radially to each side of its ring within one turn [m]; 0 except for
/// flat coils.
double sweep_of_turn(const Coil& coil);

/// Clear space between neighbouring turns, along the row [m]; 0: one turn, or unknown.
double turn_gap(const Coil& coil);

/// Length of the winding along the middle of the conductor [m], from circumference and rise of
/// every turn.
double conductor_length(const Coil& coil);

/// Inductance of the rings in air [H], conductors taken as thin skins: Maxwell's mutual inductance
/// of coaxial circles, and mu0 R (ln(8R/a) - 2) for the ring itself, a = quarter of radial + axial
/// size. Accurate to some 10 %: for plausibility checks, never for a result. Source: J. C. Maxwell,
/// A Treatise on Electricity and Magnetism, art. 701 and 704 (from memory).
double rough_inductance(const Coil& coil);

}  // namespace cw
