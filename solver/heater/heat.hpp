#pragma once

#include <optional>
#include <string>
#include <utility>

#include "materials/quantity.hpp"

namespace cw {

enum class TargetAt { surface, centre, mean, coldest };

/// A stretch of the axis [m].
struct Stretch {
  double from = 0.0, to = 0.0;  ///< from < to
};

/// Orientation of the axis of coil and workpiece; natural convection depends on it.
enum class AxisStands { vertical, horizontal };

/// The heating run.
struct Heat {
  std::optional<Temperature> target;
  std::optional<std::string> target_of;    ///< body; left out: target_body()
  TargetAt target_at = TargetAt::coldest;  ///< of the workpiece: within `heated`
  /// Instead of `target_at`: at this depth below the surface of the workpiece, half-way up `heated`
  /// [m].
  std::optional<double> target_depth;
  /// Instead of both: the coldest place on either side of the joint of two bodies, by name.
  std::optional<std::pair<std::string, std::string>> target_joint;
  std::optional<Temperature> ceiling;  ///< maximum temperature everywhere in everything that is
                                       ///< heated
  std::optional<Stretch> heated;       ///< left out: the part of the workpiece inside the coil
  std::optional<double> until;         ///< maximum duration of the run [s]
  Temperature surroundings = Temperature::celsius(20.0);
  std::optional<double> emissivity;  ///< of the workpiece; left out: the material's
  AxisStands axis = AxisStands::vertical;
  std::optional<double> thermometer;  ///< emissivity to which an infrared thermometer is set
  std::optional<Temperature> harden;  ///< above this the steel is all austenite (Ac3); left out:
                                      ///< the material's value
};

}  // namespace cw
