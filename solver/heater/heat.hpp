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

/// How the axis of coil and workpiece stands, for the flow of air.
enum class AxisStands { vertical, horizontal };

/// The heating run.
struct Heat {
  std::optional<Temperature> target;
  std::optional<std::string> target_of;    ///< body; left out: target_body()
  TargetAt target_at = TargetAt::coldest;  ///< of the workpiece: within `heated`
  /// Instead of `target_at`: so far below the surface of the workpiece, half-way up `heated` [m].
  std::optional<double> target_depth;
  /// Instead of both: the coldest place on either side of where two bodies touch, by name.
  std::optional<std::pair<std::string, std::string>> target_joint;
  std::optional<Temperature> ceiling;  ///< nothing that is heated may get hotter anywhere
  std::optional<Stretch> heated;       ///< left out: the part of the workpiece inside the coil
  std::optional<double> until;         ///< longest run [s]
  Temperature surroundings = Temperature::celsius(20.0);
  std::optional<double> emissivity;  ///< of the workpiece; left out: the material's
  AxisStands axis = AxisStands::vertical;
  std::optional<double> thermometer;  ///< emissivity an infrared thermometer is set to
  std::optional<Temperature> harden;  ///< all of it is austenite (Ac3); left out: the steel's
};

}  // namespace cw
