#pragma once

#include <functional>
#include <optional>

#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// Power leaving the bodies with all of them at one temperature, by route [W]; held surfaces add
/// nothing. For the losses a hot, well-conducting workpiece meets.
Eigen::VectorXd uniform_losses(const ThermalModel& model, Temperature uniform);

/// Where a heating run with this much power comes to rest.
struct SteadyHeat {
  Eigen::VectorXd kelvin;    ///< one per unknown
  Eigen::VectorXd by_route;  ///< [W]
  double error = 0.0;        ///< (in - out)/in
};

/// Temperatures at which `load` [W] leaves as fast as it comes. Newton from `guess` [K]. Throws
/// SolveError when it does not settle, as without any loss.
SteadyHeat steady_heat(const ThermalModel& model, const Eigen::VectorXd& load, Temperature guess);

/// A steady balance power_in(T) = power_lost(T).
struct Stall {
  Temperature at;
  double net_slope = 0.0;  ///< d(in - lost)/dT [W/K], negative: the heating comes to rest there
};

/// The first temperature between `from` and `to` where the net power falls through zero; none when
/// it stays positive. At `from` itself when it is not positive there. The range is scanned every
/// `grain` kelvin, fine enough for the drop at the Curie point.
std::optional<Stall> find_stall(const std::function<double(Temperature)>& net_power,
                                Temperature from, Temperature to, double grain = 10.0);

}  // namespace cw
