#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// A part of uniform temperature: capacity dT/dt = heat in - heat lost. Valid while temperature
/// differences inside the part are small (Biot number below 0.1), as in any bare copper in air.
struct LumpedPart {
  std::function<double(Temperature)> capacity;  ///< [J/K]
  std::function<double(Temperature)> power;     ///< heat generated inside while on [W]
  std::function<double(Temperature)> loss;  ///< heat loss, 0 at the surroundings' temperature [W]
};

/// Seconds from one temperature to another while on (or off: power = 0); empty if it is never
/// reached.
std::optional<double> time_between(const LumpedPart& part, Temperature from, Temperature to,
                                   bool on);

/// Steady temperature while on, searched between `surroundings` and `highest`; empty: above.
std::optional<Temperature> settles_at(const LumpedPart& part, Temperature surroundings,
                                      Temperature highest);

/// How long a part may run.
struct DutyCycle {
  std::optional<double> first_on;  ///< from the surroundings to the limit [s]; empty: for ever
  std::optional<double> on, off;   ///< repeated: from `restart` to the limit while on, and back
                                   ///< while off [s]
  Temperature restart;             ///< a tenth of the rise above the surroundings
  double largest_share = 1.0;      ///< of the time on, with short cycles at the limit
};
DutyCycle duty_cycle(const LumpedPart& part, Temperature surroundings, Temperature limit);

/// A point of the history.
struct LumpedPoint {
  double time = 0.0;  ///< [s]
  Temperature temperature;
};

/// `points` + 1 temperatures at equal intervals from `from` to `to`, with their times; ends early
/// if the temperature becomes steady.
std::vector<LumpedPoint> history(const LumpedPart& part, Temperature from, Temperature to, bool on,
                                 int points);

}  // namespace cw
