#pragma once

#include <functional>

#include "solver/run/solve_states.hpp"
#include "solver/thermal/lumped_part.hpp"
#include "solver/thermal/water_channel.hpp"

namespace cw {

/// The conductor of coil and leads as a body that takes up and gives off heat.
struct CoilTube {
  double length = 0.0;               ///< coil, leads and closing run [m]
  double metal_area = 0.0;           ///< of the section [m^2]
  double perimeter = 0.0;            ///< outside [m]
  double size = 0.0;                 ///< across [m]
  std::optional<WaterChannel> bore;  ///< of a tube
};
CoilTube coil_tube(const Coil& coil);

/// Heat the hot bodies send to the coil [W]: the outermost conducting body that lies within the
/// coil, at the state's temperature, through the insulators outside it (see heat_to_coil). Bodies
/// count by their largest and smallest radius. 0 for a flat coil, beside whose work nothing simple
/// holds.
double heat_from_work(const Heater& subject, const StateTemperatures& t);

/// Resistance of the conductor, alone in space, at `to` over that at `from`: how coil loss follows
/// temperature at a fixed current.
double resistance_ratio(const Heater& subject, const Winding& winding, Frequency f,
                        Temperature from, Temperature to);

/// The same from the coil's temperature in a state, for many temperatures: worked out every 5 K.
/// The case has to outlive it.
std::function<double(Temperature)> resistance_law(const Heater& subject, const SolvedState& state);

/// Whether the coil's temperature is found from its water: coolant is there and no temperature
/// given.
bool cooled_by_water(const Coil& coil);

/// The tube with its water at a working point, `loss` [W] of coil and leads. Requires a coolant.
CooledTube cooled_tube(const Heater& subject, double loss, const StateTemperatures& t);

/// The dry tube: heats by `loss` [W] at `at`, follows its resistance; convection from and radiation
/// of the outward half of its surface, since the other half faces turns and work (engineering
/// judgement, no source). `from_work` [W] is added while on.
LumpedPart dry_tube(const Heater& subject, const SolvedState& state, double loss, double from_work);

}  // namespace cw
