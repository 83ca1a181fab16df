#pragma once

#include <functional>

#include "solver/field/eddy_system.hpp"
#include "solver/field/permeability.hpp"

namespace cw {

/// A point of a triangle, for properties that vary inside a body.
struct MeshPoint {
  std::size_t triangle;
  double x, y;  ///< reference coordinates
  Point at;
};

/// Properties of a body at one point.
struct LocalMedium {
  double conductivity = 0.0;   ///< [S/m]
  double magnetisation = 1.0;  ///< Js(T)/Js(20 degC) there; 0 above the Curie point
};

/// A body whose permeability depends on the field, or whose properties vary with its temperature.
struct SaturatingRegion {
  RegionId region = 0;
  const EffectiveReluctivity* law = nullptr;  ///< null: the reluctivity of its Medium everywhere
  double magnetisation = 1.0;                 ///< the same everywhere in the body
  /// If set, replaces the above and the Medium's conductivity.
  std::function<LocalMedium(const MeshPoint&)> local;
};

/// The medium of a body at a point; `uniform` is its entry in Media.
LocalMedium medium_at(const SaturatingRegion& body, const Medium& uniform, const MeshPoint& p);

}  // namespace cw
