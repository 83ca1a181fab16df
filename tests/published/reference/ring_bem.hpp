#pragma once

#include "tests/published/reference/dodd_deeds.hpp"

namespace cw::reference {

/// Own boundary-element values for conductors so thick against the skin depth that the current
/// is a sheet on the surface: unknown surface current on every ring, flux constant on each ring,
/// Maxwell's mutual inductance as kernel with its logarithm split off exactly (Martensen-Kress
/// rule), so the error falls exponentially with the points per ring.
struct ThinSkinRow {
  double inductance;   ///< [H], external, of the row in series
  double loss_factor;  ///< R_ac/(N Rs R/a): 1 for an evenly spread sheet on a straight wire
};

/// Ring coil in the thin-skin limit. `points` per ring, even; 48 gives 1e-8 at gaps of a section
/// radius, closer rings need more.
ThinSkinRow thin_skin_row(const RingRow& row, int points);

/// The same coil round an infinite linear rod. Impedances: the same for rms and peak.
struct LoadedRow {
  double external_inductance;  ///< [H], without the coil's own internal R_coil/w
  double coil_resistance;      ///< [ohm], sheet loss Rs K^2
  double work_resistance;      ///< [ohm]
  double efficiency;           ///< work over sum
};

/// The rod enters through the answer C(alpha) of Dodd & Deeds added to the kernel.
LoadedRow thin_skin_row_round_rod(const RingRow& row, double coil_rho, const Rod& rod,
                                  double frequency);

/// Two long parallel round wires in the thin-skin limit.
struct WirePair {
  double loss_factor;       ///< resistance over that of one wire alone
  double inductance_per_m;  ///< [H/m] of the loop; meaningful for go and return only
};

/// `spacing_over_diameter` centre to centre, > 1.
WirePair thin_skin_pair(double spacing_over_diameter, bool same_direction, int points);

}  // namespace cw::reference
