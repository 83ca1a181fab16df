#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// A part of one temperature: capacity dT/dt = heat in - heat lost. Holds while the part evens out
/// faster than it gives off heat (Biot number below 0.1), as any bare copper does in air.
struct LumpedPart {
  std::function<double(Temperature)> capacity;  ///< [J/K]
  std::function<double(Temperature)> power;     ///< heat made inside while switched on [W]
  std::function<double(Temperature)> loss;      ///< heat given off, 0 at the surroundings [W]
};

/// Seconds from one temperature to another, switched on (or off: power = 0); empty when it never
/// gets there.
std::optional<double> time_between(const LumpedPart& part, Temperature from, Temperature to,
                                   bool on);

/// Where it settles switched on, looked for between `surroundings` and `highest`; empty: above.
std::optional<Temperature> settles_at(const LumpedPart& part, Temperature surroundings,
                                      Temperature highest);

/// How long a part may run.
struct DutyCycle {
  std::optional<double> first_on;  ///< from the surroundings to the limit [s]; empty: for ever
  std::optional<double> on, off;   ///< repeated: from `restart` to the limit, and back [s]
  Temperature restart;             ///< a tenth of the rise above the surroundings
  double largest_share = 1.0;      ///< of the time on, in short cycles held at the limit
};
DutyCycle duty_cycle(const LumpedPart& part, Temperature surroundings, Temperature limit);

/// A point of the history.
struct LumpedPoint {
  double time = 0.0;  ///< [s]
  Temperature temperature;
};

/// `points` + 1 temperatures evenly apart from `from` to `to` with their times; cut short where it
/// settles.
std::vector<LumpedPoint> history(const LumpedPart& part, Temperature from, Temperature to, bool on,
                                 int points);

}  // namespace cw
