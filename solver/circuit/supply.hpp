#pragma once

#include "solver/heater/drive.hpp"

namespace cw {

/// Reaction of the supply to the demand.
enum class SupplyAction { within_limit, folded, tripped, hiccups };

/// Reaction of the supply when the drive demands `demand_A` without a limit.
SupplyAction act(const DcSupply& drive, double demand_A);

/// Resistance [ohm] of both wires of a cable: 2 rho length/area, one-way length [m], section [m2],
/// resistivity [ohm m].
double cable_resistance(double one_way_length, double section, double resistivity);

/// The same of a cable as it is described, of annealed copper at 20 degC unless its resistance is
/// given; 0 without one.
double cable_resistance(const std::optional<Cable>& cable);

/// Internal resistance of the source [ohm].
double battery_resistance(const DcSupply& drive);

/// Throws std::invalid_argument for an impossible supply, with value, limit and remedy.
void require_usable_supply(const DcSupply& drive);

}  // namespace cw
