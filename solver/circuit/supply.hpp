#pragma once

#include "solver/heater/drive.hpp"

namespace cw {

/// What the supply did.
enum class SupplyAction { within_limit, folded, tripped, hiccups };

/// Action of the supply when the drive asks for `demand_A` with the limit off.
SupplyAction act(const DcSupply& drive, double demand_A);

/// Resistance [ohm] of both wires of a cable: 2 rho length/area, one-way length [m], section [m2],
/// resistivity [ohm m].
double cable_resistance(double one_way_length, double section, double resistivity);

/// The same of a cable as it is described, of annealed copper at 20 degC unless its resistance is
/// given; 0 without one.
double cable_resistance(const std::optional<Cable>& cable);

/// Between the source's own voltage and the drive [ohm].
double battery_resistance(const DcSupply& drive);

/// Throws std::invalid_argument where the supply cannot be, with value, limit and remedy.
void require_usable_supply(const DcSupply& drive);

}  // namespace cw
