#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "solver/heater/bench.hpp"
#include "solver/heater/bodies.hpp"
#include "solver/heater/coil.hpp"
#include "solver/heater/drive.hpp"
#include "solver/heater/heat.hpp"
#include "solver/heater/tank.hpp"

namespace cw {

/// A heater as plain data: its parts and its task. SI units (m, kg, s, A, K, V, ohm, H, F); no
/// files, no text. What may be left out is std::optional, unless a default is stated beside it.
/// Solvers, limits, pictures and page all read this description.
struct Heater {
  std::optional<Workpiece> workpiece;  ///< left out: the empty coil
  std::vector<Body> bodies;
  Coil coil;
  std::optional<Tank> tank;  ///< required by a drive that uses it, see TankUse
  Drive drive;
  std::optional<Heat> heat;  ///< left out: no heating run
  std::vector<Nearby> nearby;
  Commissioning commissioning;
  Tolerance tolerance;
};

/// The body that is to reach the target: the body named, else the only useful one, else the
/// workpiece; for a joint its first body.
inline std::string target_body(const Heater& heater) {
  if (heater.heat && heater.heat->target_joint) return heater.heat->target_joint->first;
  if (heater.heat && heater.heat->target_depth) return "workpiece";
  if (heater.heat && heater.heat->target_of) return *heater.heat->target_of;
  const auto useful = [](const Body& b) { return b.useful; };
  if (std::ranges::count_if(heater.bodies, useful) == 1)
    return std::ranges::find_if(heater.bodies, useful)->name;
  return "workpiece";
}

/// The air round heater and work: that of the heating run, else 20 degC.
inline Temperature surroundings_of(const Heater& heater) {
  return heater.heat ? heater.heat->surroundings : Temperature::celsius(20.0);
}

}  // namespace cw
