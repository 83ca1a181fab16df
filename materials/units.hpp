#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace cw {

/// The dimension to which a string with a unit must be convertible.
enum class Dimension {
  length,
  area,
  time,
  current,
  voltage,
  resistance,
  inductance,
  capacitance,
  frequency,
  temperature,
  temperature_difference,
  power,
  energy,
  mass,
  density,
  resistivity,
  thermal_conductivity,
  heat_capacity,
  thermal_capacity,
  specific_energy,
  flow,
  field_strength,
  flux_density,
  pressure,
  inductance_per_turn2,
  speed,
  thermal_resistance,
  heat_transfer,
  number
};

/// A number converted to SI, or a sentence saying what was found, what is allowed and what to write
/// instead.
struct Parsed {
  std::optional<double> value;
  std::string complaint;
};

/// Reads "25 mm", "0.4 mohm", "20 degC", "68 degF", "1/4 inch", "0.17 uohm m" into SI (temperature
/// into kelvin). The decimal sign is a point in any locale. Refuses units that are easily confused
/// (are, tonne, ...), and non-finite numbers. Units through UDUNITS-2, with kWh, Wh, kvar, var,
/// degC, degF, inch, L/min mapped.
Parsed parse_quantity(std::string_view text, Dimension wanted);

/// SI unit of a dimension as written in messages and result keys, for example "m", "ohm".
std::string_view si_unit(Dimension d);

/// A spelling that is accepted, for messages: example(Dimension::length) == "25 mm".
std::string_view example(Dimension d);

}  // namespace cw
