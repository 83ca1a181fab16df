#pragma once

#include <optional>
#include <vector>

#include "solver/heater/conductor.hpp"
#include "solver/heater/warming.hpp"

namespace cw {

/// The go-and-return pair from the coil to the tank.
struct Leads {
  double length = 0.0;             ///< one way [m]
  double spacing = 0.0;            ///< between centres [m]
  std::optional<Warming> warming;  ///< of both, where they are not the coil's tube
};

/// Water inside the conductor.
struct Coolant {
  double flow = 0.0;  ///< [m3/s]
  Temperature inlet = Temperature::celsius(20.0);
  double rise = 15.0;              ///< wanted, for the flow that brings it about [K]
  std::optional<double> pressure;  ///< what pump or main gives at this flow [Pa]
};

enum class CoilShape { helix, flat, cone, rings };

/// Centre of one explicit turn [m].
struct Ring {
  double r = 0.0, z = 0.0;
};

/// The work coil; its middle is z = 0 (explicit rings stand where they are written). See
/// ring_places().
struct Coil {
  CoilShape shape = CoilShape::helix;
  double turns = 0.0;  ///< for `rings`: their number
  double bore = 0.0;   ///< clear inside diameter [m]; flat: of the innermost turn; cone: at the
                       ///< lower (z < 0) end; rings: smallest
  std::optional<double> bore_end;  ///< cone only: clear inside diameter at the upper end [m]
  double pitch = 0.0;  ///< from turn to turn, axial; flat: radial [m]. 0 for `rings` and where a
                       ///< single turn gives none
  std::optional<double>
      gap;  ///< clear space between turns [m], where it was written instead of the pitch
  std::vector<Ring> rings;  ///< `rings` only, in winding order
  Conductor conductor;
  std::optional<Leads> leads;      ///< left out: none
  std::optional<Coolant> coolant;  ///< left out: in still air
  std::optional<Temperature>
      temperature;  ///< left out: from cooling where that is computed, else 20 degC
  /// Hottest a coil without water may get (insulation, sleeve); left out: where soft solder softens
  std::optional<Temperature> temperature_limit;
};

}  // namespace cw
