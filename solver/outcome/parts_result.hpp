#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

// Results for the parts round the coil, as plain data in SI units. An empty std::optional is left
// out of the JSON.

/// How long a part may stay on, and how long it must rest.
struct DutyResult {
  std::string part, state;  ///< the state that heats it most
  double power = 0.0;       ///< [W]
  Temperature limit;
  std::optional<double> on, off;      ///< [s]; both empty: may stay on for ever
  double share = 1.0;                 ///< share of time on, with short cycles
  std::optional<Temperature> steady;  ///< if left on
};

/// A choke as wound.
struct ChokeResult {
  int turns = 0;
  double wire_length = 0.0;          ///< [m]
  double resistance = 0.0;           ///< [ohm] direct current
  double inductance = 0.0;           ///< at the mean current of the worst state [H]
  double unbiased_inductance = 0.0;  ///< [H]
  double flux_density_peak = 0.0;    ///< [T]
  double hole_fill = 0.0;            ///< share of the hole's circumference filled, one layer
  std::optional<double> saturation_current;  ///< [A]
  std::string state;
};

/// A transistor's junction in the worst state.
struct JunctionResult {
  double loss = 0.0;                     ///< of one switch, conduction only [W]
  std::optional<Temperature> junction;   ///< on its sink
  std::optional<double> sink_allowed;    ///< largest that keeps the limit [K/W]
  std::optional<double> alone_to_limit;  ///< time without a sink [s]; empty: never reaches the
                                         ///< limit
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
  std::optional<double> rise;           ///< [K]; empty: no steady temperature (thermal runaway)
  std::optional<double> softens_after;  ///< seconds until soft solder melts
  std::optional<double> width_needed;   ///< least width that keeps the rise below 80 % of the
                                        ///< permitted rise [m]
  std::string state;
};

/// The wall socket.
struct MainsResult {
  double power = 0.0;  ///< largest in any state [W]
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

/// All results for these parts; empty where the case gives no data.
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
  double value = 0.0, low = 0.0, high = 0.0;  ///< range from the part tolerances
};

/// The first power-up.
struct CommissioningResult {
  std::vector<ReadingResult> readings;
};

}  // namespace cw
