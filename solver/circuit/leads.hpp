#pragma once

#include "solver/circuit/round_conductor.hpp"

namespace cw {

/// From the coil's ends to the tank: a parallel go-and-return pair, and the run along the coil that
/// brings one end back to the other.
struct LeadLoop {
  double one_way_length = 0.0;    ///< of the pair [m]
  double spacing = 0.0;           ///< of the pair, centre to centre [m]
  RoundConductor conductor = {};  ///< of the pair and of the run
  double coil_length = 0.0;       ///< length of the closing run [m]; 0 for none
  /// Distance of the closing run from the coil's axis [m], for its mutual inductance with the
  /// coil's own axial current, which flows the other way; 0 leaves that out.
  double run_distance = 0.0;
  double coil_radius = 0.0;  ///< mean radius of the turns [m], below run_distance; for the same
};

/// A rectangular bar or rectangular tube.
struct Bar {
  double width = 0.0, height = 0.0;  ///< outside [m]
  double wall = 0.0;                 ///< [m]; 0: solid
  double conductivity = 0.0;         ///< [S/m]
};

/// See RectangularBar::equivalent().
RoundConductor equivalent_round(const Bar& bar);

/// Series impedance per metre of a long pair, go and return together [ohm/m, H/m]. Exact for two
/// straight parallel tubes or wires in air at every frequency: each responds to the other's field
/// with its transverse_response, to all orders. Limits: direct current, (mu0/pi)(ln(s/a) + 1/4) for
/// solid wires; thin skin, the isolated resistance times 1/sqrt(1 - (d/s)^2) and L' = (mu0/pi)
/// acosh(s/d), d the diameter (closed form, two conducting cylinders). `spacing` is centre to
/// centre; throws std::invalid_argument unless it exceeds the diameter.
SeriesImpedance parallel_pair(const RoundConductor& c, double spacing, Frequency f);

/// Mutual partial inductance [H] of two parallel filaments of `length`, opposite each other at
/// `distance` [m]; with the distance a it is the partial self-inductance of a thin round tube of
/// radius a, which for a << length is (mu0 length/2 pi)(ln(2 length/a) - 1).
/// Source: E. B. Rosa, Bull. Bur. Stand. 4 (1908) 301 (from memory).
double parallel_filaments(double length, double distance);

/// The closing run: partial inductance of a straight conductor, less twice its mutual inductance
/// with the coil's axial current, taken as an even sheet on the cylinder of radius coil_radius. The
/// sheet is within 3 % of a five-turn helix (tests). For whole turns, whose ends lie on one line;
/// the turns' influence on the run's resistance is left out.
SeriesImpedance closing_run(const LeadLoop& leads, Frequency f);

/// Pair and closing run in series [ohm, H].
SeriesImpedance leads_impedance(const LeadLoop& leads, Frequency f);

}  // namespace cw
