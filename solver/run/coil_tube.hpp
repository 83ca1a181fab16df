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

/// Heat from the hot bodies to the coil [W]. It comes from the outermost conducting body within the
/// coil, at the state's temperature, through the insulators outside it (see heat_to_coil). Bodies
/// count by their largest and smallest radius. 0 for a flat coil: no simple formula holds for work
/// beside it.
double heat_from_work(const Heater& subject, const StateTemperatures& t);

/// Resistance of the conductor, alone in space, at `to` divided by that at `from`. Coil loss at a
/// fixed current follows it.
double resistance_ratio(const Heater& subject, const Winding& winding, Frequency f,
                        Temperature from, Temperature to);

/// The same relative to the coil's temperature in a state, for many temperatures: tabulated every 5
/// K. The case must outlive it.
std::function<double(Temperature)> resistance_law(const Heater& subject, const SolvedState& state);

/// Whether the coil's temperature is computed from its water: the coil has coolant and no given
/// temperature.
bool cooled_by_water(const Coil& coil);

/// The tube with its water at an operating point; `loss` [W] is that of coil and leads. Requires a
/// coolant.
CooledTube cooled_tube(const Heater& subject, double loss, const StateTemperatures& t);

/// The dry tube. `loss` [W] at `at` heats it and follows its resistance. It loses heat by
/// convection and radiation from the outward half of its surface; the other half faces turns and
/// work (engineering judgement, no source). `from_work` [W] is added while the power is on.
LumpedPart dry_tube(const Heater& subject, const SolvedState& state, double loss, double from_work);

}  // namespace cw
