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
  std::optional<Warming> warming;  ///< of both leads, if they are not made of the coil's tube
};

/// Water inside the conductor.
struct Coolant {
  double flow = 0.0;  ///< [m3/s]
  Temperature inlet = Temperature::celsius(20.0);
  double rise = 15.0;  ///< wanted rise of the water's temperature [K]; the run computes the flow
                       ///< for it
  std::optional<double> pressure;  ///< pressure of the pump or the main at this flow [Pa]
};

enum class CoilShape { helix, flat, cone, rings };

/// Centre of one explicit turn [m].
struct Ring {
  double r = 0.0, z = 0.0;
};

/// The work coil. Its middle is z = 0 (explicit rings keep the places given). See ring_places().
struct Coil {
  CoilShape shape = CoilShape::helix;
  double turns = 0.0;  ///< for `rings`: their number
  double bore = 0.0;   ///< clear inside diameter [m]; flat: of the innermost turn; cone: at the
                       ///< lower (z < 0) end; rings: smallest
  std::optional<double> bore_end;  ///< cone only: clear inside diameter at the upper end [m]
  double pitch = 0.0;  ///< from turn to turn, axial; flat: radial [m]. 0 for `rings`, and for a
                       ///< single turn without a pitch
  std::optional<double>
      gap;                  ///< clear space between turns [m], if it was given instead of the pitch
  std::vector<Ring> rings;  ///< `rings` only, in winding order
  Conductor conductor;
  std::optional<Leads> leads;      ///< left out: none
  std::optional<Coolant> coolant;  ///< left out: in still air
  std::optional<Temperature>
      temperature;  ///< left out: computed from the cooling where possible, else 20 degC
  /// Highest temperature of a coil without water (insulation, sleeve); left out: where soft solder
  /// softens
  std::optional<Temperature> temperature_limit;
};

}  // namespace cw
