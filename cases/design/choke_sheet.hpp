#pragma once

#include <optional>
#include <string>

#include "solver/circuit/ring_core_choke.hpp"
#include "solver/heater/drive.hpp"
#include "solver/outcome/result.hpp"

namespace cw::cases {

/// How to wind one feed choke on a usual ring of metal powder.
struct ChokeSheet {
  RingCore ring;
  int gauge = 0;          ///< American wire gauge
  double diameter = 0.0;  ///< bare, of one wire [m]
  int wires = 1;          ///< wound side by side as one
  int layers = 1;
  WoundChoke wound;  ///< with all wires: length is that of one of them
};

/// The smallest usual ring on which a choke of this inductance fits in at most two layers, for the
/// largest current of the run. Copper carries 5 A/mm2 (common practice, no source). Empty where no
/// usual ring is large enough, or the result has no supply current.
std::optional<ChokeSheet> choke_sheet(const Result& result, const Choke& choke);

/// Bare diameter of a wire [m] by its American gauge. Source: ASTM B258, from memory: 0.127 mm
/// 92^((36 - gauge)/39).
double gauge_diameter(int gauge);

/// "31 turns of 2 x AWG 14 (1.63 mm) on a ring of 46.7 x 24.1 x 18 mm, permeability 60".
std::string words_of(const ChokeSheet& sheet);

}  // namespace cw::cases
