#pragma once

#include <functional>
#include <optional>

#include "cases/run/solve_states.hpp"

namespace cw::cases {

/// A bench drive: frequency and current or voltage [A] or [V] rms are given.
struct FixedDrive {
  const char* kind;  ///< "current", "voltage"
  Frequency frequency;
  double rms;
  bool voltage;
};

/// The drive of a design, where it is of that kind.
std::optional<FixedDrive> fixed_drive(const Case& design);

/// The figures of the rings, 1 A rms in the winding, with the tube at this temperature.
using RingsAt = std::function<RingFigures(Temperature coil)>;

/// The state `fixed_frequency` of a linear design by kept figures of its rings: coil loss and
/// temperature of the tube made to agree as by the plain method. `rings` is asked for temperatures
/// 20 K apart, from that of the inlet on; between them losses follow the resistance of the tube
/// alone in space. What stands in the state: temperatures, model, frequency, current, coil.
SolvedState settled_state(const Case& design, const FixedDrive& drive, const RingsAt& rings);

}  // namespace cw::cases
