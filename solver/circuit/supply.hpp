#pragma once

#include <optional>

namespace cw {

/// What a supply does at its limit.
enum class SupplyLimit {
  fold,   ///< the voltage folds back until the current meets the limit
  trip,   ///< a breaker or fuse opens
  hiccup  ///< the supply stops and tries again
};

/// The direct-current supply with what lies between it and the drive.
struct Supply {
  double voltage_V = 0.0;                ///< set, or of the battery with nothing drawn
  double internal_resistance_ohm = 0.0;  ///< of a battery
  double cable_resistance_ohm = 0.0;     ///< both wires and the fuse
  std::optional<double> limit_A;         ///< left out: gives what is asked
  SupplyLimit limit_kind = SupplyLimit::fold;
};

/// What the supply did.
enum class SupplyAction { within_limit, folded, tripped, hiccups };

/// Action of `supply` when the drive asks for `demand_A` with the limit off.
SupplyAction act(const Supply& supply, double demand_A);

/// Resistance [ohm] of both wires of a cable: 2 rho length/area, one-way length [m], section [m2],
/// resistivity [ohm m].
double cable_resistance(double one_way_length, double section, double resistivity);

/// Throws std::invalid_argument where the supply cannot be, with value, limit and remedy.
void require_usable(const Supply& supply);

}  // namespace cw
