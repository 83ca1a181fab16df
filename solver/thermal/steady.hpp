#pragma once

#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// Where a heating run with this much power comes to rest.
struct SteadyHeat {
  Eigen::VectorXd kelvin;    ///< one per unknown
  Eigen::VectorXd by_route;  ///< [W]
  double error = 0.0;        ///< (in - out)/in
};

/// Temperatures at which `load` [W] leaves as fast as it comes. Newton from `guess` [K]. Throws
/// SolveError when it does not settle, as without any loss.
SteadyHeat steady_heat(const ThermalModel& model, const Eigen::VectorXd& load, Temperature guess);

}  // namespace cw
