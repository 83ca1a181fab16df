#pragma once

#include <optional>
#include <string>

#include "materials/material.hpp"

namespace cw {

enum class NearbyKind { ring, bracket };

/// Metal that happens to lie near the coil; takes no part in the field.
struct Nearby {
  std::string name;
  NearbyKind kind = NearbyKind::ring;
  Material material;
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

}  // namespace cw
