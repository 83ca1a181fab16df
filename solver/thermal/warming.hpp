#pragma once

#include <optional>

#include "materials/quantity.hpp"

namespace cw {

/// A part of uniform temperature that takes up heat and loses it to its surroundings.
struct ThermalMass {
  double capacity = 0.0;  ///< [J/K]
  double to_air = 0.0;    ///< thermal resistance to the surroundings [K/W]
};

/// Time [s] with `watts` from `start` until the part is at `limit`, from T = Ta + P R + (T0 - Ta -
/// P R) exp(-t/(R C)); empty if it is never reached.
std::optional<double> time_to_reach(const ThermalMass& mass, double watts, Temperature air,
                                    Temperature start, Temperature limit);

/// From a transistor's junction to the air, as data sheets state it [K/W].
struct HeatPath {
  double junction_to_case = 0.0, case_to_sink = 0.0, sink_to_air = 0.0;
  [[nodiscard]] double total() const { return junction_to_case + case_to_sink + sink_to_air; }
};

/// Steady temperature of the junction.
Temperature junction_temperature(const HeatPath& path, double watts, Temperature air);

/// The largest resistance of the heat sink that keeps the junction at `limit` [K/W]; negative if no
/// heat sink can.
double sink_allowed(const HeatPath& path, double watts, Temperature air, Temperature limit);

}  // namespace cw
