#pragma once

#include <optional>
#include <string>

#include "materials/material.hpp"

namespace cw {

enum class NearbyKind { ring, bracket };

/// Metal that happens to lie near the coil. It is not part of the field model.
struct Nearby {
  std::string name;
  NearbyKind kind = NearbyKind::ring;
  Material material;
  double r = 0.0, z = 0.0;                    ///< its middle [m]
  std::optional<double> diameter, thickness;  ///< of a ring, and of its wire [m]
  std::optional<double> surface;              ///< of a bracket [m2]
};

/// A few turns of wire in the coil's stray field; their axis is parallel to the coil's.
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

/// How far the parts may deviate from the stated values.
struct Tolerance {
  double capacitance = 0.10;  ///< relative, either way
  double gap = 1e-3;          ///< of the clear bore's radius, either way [m]
  double permeability = 2.0;  ///< of the field at which steel is half saturated; a factor, either
                              ///< way
  double resistivity = 0.05;  ///< relative, of the workpiece, either way
};

}  // namespace cw
