#pragma once

#include <functional>

#include "cases/case.hpp"
#include "solver/circuit/fixed_frequency.hpp"
#include "solver/run/solve_states.hpp"

namespace cw::cases {

/// The figures of the rings, 1 A rms in the winding, with the tube at this temperature.
using RingsAt = std::function<RingFigures(Temperature coil)>;

/// The state `fixed_frequency` of a linear design from stored figures of its rings; coil loss and
/// temperature of the tube are made consistent as in the plain method. `rings` is called at
/// temperatures 20 K apart, from that of the inlet; between them losses follow the resistance of
/// the tube alone in space. The state holds temperatures, model, frequency, current and coil.
SolvedState settled_state(const Case& design, const FixedFrequency& drive, const RingsAt& rings);

}  // namespace cw::cases
