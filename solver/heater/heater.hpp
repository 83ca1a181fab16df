#pragma once

#include <optional>
#include <vector>

#include "solver/heater/bench.hpp"
#include "solver/heater/bodies.hpp"
#include "solver/heater/coil.hpp"
#include "solver/heater/drive.hpp"
#include "solver/heater/heat.hpp"
#include "solver/heater/tank.hpp"

namespace cw {

/// A heater as plain data: what stands on the bench and what is asked of it. SI units (m, kg, s, A,
/// K, V, ohm, H, F); no files, no text. What may be left out is std::optional, unless a default is
/// stated beside it. The solvers, the limits, the pictures and the page read this one description.
struct Heater {
  std::optional<Workpiece> workpiece;  ///< left out: the empty coil
  std::vector<Body> bodies;
  Coil coil;
  std::optional<Tank> tank;  ///< required by a push-pull drive
  Drive drive;
  std::optional<Heat> heat;  ///< left out: no heating run
  std::vector<Nearby> nearby;
  Commissioning commissioning;
  Tolerance tolerance;
};

/// The air round heater and work: that of the heating run, else 20 degC.
inline Temperature surroundings_of(const Heater& heater) {
  return heater.heat ? heater.heat->surroundings : Temperature::celsius(20.0);
}

}  // namespace cw
