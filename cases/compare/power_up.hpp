#pragma once

#include <array>
#include <optional>
#include <string>

#include "cases/case.hpp"
#include "solver/coupled/operating_point.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw::cases {

/// Readings of the first power-up, in the order of `reading_names`.
enum class ReadingKind {
  empty_inductance,     ///< at the leads' ends, before the tank is connected [H]
  empty_frequency,      ///< [Hz]
  loaded_frequency,     ///< workpiece cold [Hz]
  empty_current,        ///< from the supply [A]
  loaded_current,       ///< from the supply, workpiece cold [A]
  transformer_voltage,  ///< across the burden of the current transformer, empty [V] rms
  pickup_voltage        ///< of the pick-up loop, empty [V] rms
};
inline constexpr std::size_t reading_count = 7;
inline constexpr std::array<const char*, reading_count> reading_names = {
    "empty_inductance", "empty_frequency",     "loaded_frequency", "empty_current",
    "loaded_current",   "transformer_voltage", "pickup_voltage"};
inline constexpr std::array<const char*, reading_count> reading_units = {"H", "Hz", "Hz", "A",
                                                                         "A", "V",  "V"};

/// One value for each kind; empty if the case cannot have it.
using ReadingValues = std::array<std::optional<double>, reading_count>;

/// A heater at one temperature, at its operating point with the supply's limit in effect.
struct PowerUp {
  OperatingPoint point;
  std::optional<double> pickup_flux;  ///< through one turn of the pick-up loop [Wb] rms
};

/// Solves the case with the work at its own temperature. `shorted` is the number of a turn, from 0,
/// that is closed on itself: it leaves the series of turns and carries the current that the field
/// induces. `start` may be empty. Throws SolveError, MeshError.
PowerUp power_up(const Case& subject, std::optional<std::size_t> shorted,
                 const std::optional<LocalCoil>& start, Effort effort);

/// The case with nothing in the coil.
Case emptied(const Case& subject);

/// The case without the bodies that the field does not see, such as sleeves and fibre.
Case without_insulators(const Case& subject);

/// The case with a gap between work and coil that is wider by `by` [m]: bore, or explicit rings;
/// without insulators. A narrower gap keeps at least 0.2 mm.
Case with_wider_gap(const Case& subject, double by);

/// The case with both the field at which the steel is half saturated and its resistivity multiplied
/// by factors.
Case with_other_steel(const Case& subject, double half_field, double resistivity);

/// The readings from both solved states.
ReadingValues readings_of(const Case& subject, const PowerUp& empty,
                          const std::optional<PowerUp>& loaded);

}  // namespace cw::cases
