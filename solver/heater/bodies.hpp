#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/material.hpp"
#include "materials/quantity.hpp"
#include "mesh/planar/point.hpp"

namespace cw {

/// The section of a body of revolution, given either by diameter (+ bore) and length, or by its
/// corners.
struct Outline {
  std::optional<double> diameter, bore, length;  ///< [m]; unset when a profile was written
  double centre = 0.0;  ///< z of the middle [m]; 0 when a profile was written
  /// Closed polygon (r, z) [m], always filled (four corners for a cylinder), last corner not
  /// repeated, in the order written: either way round.
  std::vector<Point> profile;
};

/// What an outline takes up [m].
struct OutlineExtent {
  double inner = 1e300, outer = 0.0;  ///< radii
  double low = 1e300, high = -1e300;  ///< along z
};
OutlineExtent extent_of(const Outline& outline);

/// Temperature at a depth below the outside of a body.
struct TemperaturePoint {
  double depth = 0.0;  ///< [m]
  Temperature temperature;
};

/// From the outside inwards, depths rising; linear between the points, held beyond them.
using TemperatureProfile = std::vector<TemperaturePoint>;

/// What lies on a metal and leaves it as fume when it is heated.
enum class Coating { zinc, cadmium };

/// The part to be heated.
struct Workpiece {
  Material material;
  Outline outline;
  Temperature temperature = Temperature::celsius(20.0);  ///< at the start, and of the state `cold`;
                                                         ///< with a profile that of the outside
  TemperatureProfile temperature_profile;  ///< of the same; empty: `temperature` all through
  /// How far its lower end reaches below the upper end of the coil [m]; the outline stands there.
  std::optional<double> insertion;
  std::optional<Coating> coating;  ///< left out: bare metal
};

/// Anything else in the field: cup, sleeve, fibre, flux guide, second part.
struct Body {
  std::string name;  ///< unique in the case; never "workpiece" or "turn..."
  Material material;
  Outline outline;
  std::optional<Temperature> temperature;  ///< fixed at this; left out: as warm as the state says
  TemperatureProfile temperature_profile;  ///< fixed at this instead; empty: none
  bool useful = false;            ///< its power counts in the efficiency beside the workpiece's
  std::optional<double> contact;  ///< conductance to what it touches [W/(m2 K)]; left out: bonded
};

}  // namespace cw
