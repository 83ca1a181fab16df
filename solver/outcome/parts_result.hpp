#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

// What a run found of the parts round the coil, as plain data in SI units. Every std::optional that
// is empty is left out of the JSON.

/// On-time and rest of a part.
struct DutyResult {
  std::string part, state;  ///< the state that heats it most
  double power = 0.0;       ///< [W]
  Temperature limit;
  std::optional<double> on, off;      ///< [s]; both empty: may stay on
  double share = 1.0;                 ///< of the time, in short strokes
  std::optional<Temperature> steady;  ///< when left on
};

/// A choke as wound.
struct ChokeResult {
  int turns = 0;
  double wire_length = 0.0;                  ///< [m]
  double resistance = 0.0;                   ///< [ohm] direct current
  double inductance = 0.0;                   ///< at the mean current of the worst state [H]
  double unbiased_inductance = 0.0;          ///< [H]
  double flux_density_peak = 0.0;            ///< [T]
  double hole_fill = 0.0;                    ///< share of the hole's circumference, one layer
  std::optional<double> saturation_current;  ///< [A]
  std::string state;
};

/// A transistor's junction in the worst state.
struct JunctionResult {
  double loss = 0.0;                     ///< of one switch, conduction only [W]
  std::optional<Temperature> junction;   ///< on its sink
  std::optional<double> sink_allowed;    ///< [K/W] for the limit
  std::optional<double> alone_to_limit;  ///< seconds without a sink; empty: holds
  std::optional<Temperature> alone;      ///< steady, without a sink
  std::string state;
};

/// A conductor of the tank's path in the worst state.
struct PathResult {
  std::string name;
  double current = 0.0;     ///< [A] rms
  double resistance = 0.0;  ///< at its temperature [ohm]
  double loss = 0.0;        ///< [W]
  double solder_share = 0.0;
  std::optional<double> rise;           ///< [K]; empty: it runs away
  std::optional<double> softens_after;  ///< seconds until soft solder melts
  std::optional<double> width_needed;   ///< that keeps the rise below 80 % of what is allowed [m]
  std::string state;
};

/// The wall socket.
struct MainsResult {
  double power = 0.0;  ///< largest of all states [W]
  std::string state;
  std::optional<double> energy;  ///< of one heat [J]
  std::optional<double> cost;    ///< of one heat, in the money of the price
};

/// Metal near the coil.
struct NearbyResult {
  std::string name, state;
  double field = 0.0;  ///< flux density there [T] rms
  double power = 0.0;  ///< [W]
};

/// Everything that is known of them; what the case gives no data of is empty.
struct PartsResult {
  std::optional<ChokeResult> choke;
  std::optional<JunctionResult> junction;
  std::vector<PathResult> path;
  std::optional<MainsResult> mains;
  std::vector<DutyResult> duty;
  std::vector<NearbyResult> nearby;
  std::optional<double> breakdown_peak;  ///< of the gap between turns in clean air [V]
};

/// One reading of the first power-up.
struct ReadingResult {
  std::string name;  ///< key in a file of readings
  std::string unit;
  double value = 0.0, low = 0.0, high = 0.0;  ///< band from the part tolerances
};

/// The first power-up.
struct CommissioningResult {
  std::vector<ReadingResult> readings;
};

}  // namespace cw
