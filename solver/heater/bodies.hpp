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
  /// Closed polygon (r, z) [m], always filled (four corners for a cylinder). The last corner does
  /// not repeat the first. Either direction, as written.
  std::vector<Point> profile;
};

/// The space that an outline occupies [m].
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

/// From the outside inwards, depths rising. Linear between the points, constant beyond them.
using TemperatureProfile = std::vector<TemperaturePoint>;

/// A coating on a metal that turns to fume when it is heated.
enum class Coating { zinc, cadmium };

/// The part to be heated.
struct Workpiece {
  Material material;
  Outline outline;
  Temperature temperature = Temperature::celsius(20.0);  ///< at the start, and in the state `cold`;
                                                         ///< with a profile: at the outside
  TemperatureProfile temperature_profile;  ///< at the same moments; empty: uniform `temperature`
  /// How far the lower end of the workpiece is below the upper end of the coil [m]; `outline` is
  /// already placed accordingly.
  std::optional<double> insertion;
  std::optional<Coating> coating;  ///< left out: bare metal
};

/// Anything else in the field: cup, sleeve, fibre, flux guide, second part.
struct Body {
  std::string name;  ///< unique in the case; never "workpiece" or "turn..."
  Material material;
  Outline outline;
  std::optional<Temperature> temperature;  ///< kept at this; left out: the temperature of the state
  TemperatureProfile temperature_profile;  ///< kept at this instead; empty: none
  bool useful = false;  ///< its power counts as useful in the efficiency, as the workpiece's does
  std::optional<double> contact;  ///< conductance to what it touches [W/(m2 K)]; left out: bonded
};

}  // namespace cw
