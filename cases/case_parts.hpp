#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/material.hpp"
#include "materials/quantity.hpp"

namespace cw::cases {

// What a case file may say of the parts round the coil; SI units. Included by case.hpp.

/// How a part takes up heat and loses it.
struct Warming {
  double heat_capacity = 0.0;                      ///< of the whole part [J/K]
  double to_air = 0.0;                             ///< [K/W]
  Temperature limit = Temperature::celsius(85.0);  ///< the hottest it may get
};

/// Ring core of a feed choke, to be wound.
struct ChokeCore {
  double outer = 0.0, inner = 0.0, height = 0.0;  ///< [m]
  std::optional<double> permeability;             ///< initial; or
  std::optional<double> inductance_factor;        ///< A_L [H] per turn squared
  std::optional<double> saturation;               ///< flux density [T]
  std::optional<double> bias_80, bias_50;  ///< field that leaves 80 and 50 % of permeability [A/m]
  double wire = 0.0;                       ///< bare diameter [m]
};

/// A transistor on its heat sink.
struct HeatSink {
  double junction_to_case = 0.0;              ///< [K/W]
  double case_to_sink = 0.0;                  ///< [K/W]
  std::optional<double> sink_to_air;          ///< [K/W]; left out: none fitted
  std::optional<double> junction_to_air;      ///< of the bare transistor [K/W]
  std::optional<double> heat_capacity;        ///< of the bare transistor [J/K]
  std::optional<Temperature> junction_limit;  ///< from its data sheet
};

enum class ConductorKind { board, bar };

/// A conductor of the tank's path: board copper or busbar.
struct PathConductor {
  std::string name;
  ConductorKind kind = ConductorKind::bar;
  double width = 0.0, thickness = 0.0, length = 0.0;  ///< [m]
  std::optional<double> solder, strap;                ///< thickness of what lies on top [m]
  int in_parallel = 1;
  std::optional<double> rise;  ///< allowed [K]
};

/// The wall socket.
struct Mains {
  double efficiency = 0.9;              ///< of the supply, DC over mains power
  std::optional<double> price_per_kWh;  ///< in whatever money
};

enum class NearbyKind { ring, bracket };

/// Metal that happens to lie near the coil; takes no part in the field.
struct Nearby {
  std::string name;
  NearbyKind kind = NearbyKind::ring;
  Material material;
  std::string material_as_written;
  double r = 0.0, z = 0.0;                    ///< its middle [m]
  std::optional<double> diameter, thickness;  ///< of a ring, and of its wire [m]
  std::optional<double> surface;              ///< of a bracket [m2]
};

/// A few turns of wire held where the coil's stray field is, their axis along the coil's.
struct PickupLoop {
  int turns = 1;
  double diameter = 0.0;    ///< [m]
  double r = 0.0, z = 0.0;  ///< [m]
};

/// A current transformer over one lead.
struct CurrentTransformer {
  int turns = 0;
  double burden = 0.0;  ///< [ohm]
};

/// What is measured at the first power-up.
struct Commissioning {
  std::optional<PickupLoop> pickup_loop;
  std::optional<CurrentTransformer> current_transformer;
};

/// How far the parts may be off what is written.
struct Tolerance {
  double capacitance = 0.10;  ///< relative, either way
  double gap = 1e-3;          ///< of the clear bore's radius, either way [m]
  double permeability = 2.0;  ///< factor on the field at which steel is half saturated, either way
  double resistivity = 0.05;  ///< relative, of the workpiece, either way
};

}  // namespace cw::cases
