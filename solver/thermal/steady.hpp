#pragma once

#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// The steady state of a heating with constant power.
struct SteadyHeat {
  Eigen::VectorXd kelvin;    ///< one per unknown
  Eigen::VectorXd by_route;  ///< [W]
  double error = 0.0;        ///< (in - out)/in
};

/// Temperatures at which `load` [W] equals the losses. Newton's method from `guess` [K], one per
/// unknown. Throws SolveError if it does not converge, as without any loss.
SteadyHeat steady_heat(const ThermalModel& model, const Eigen::VectorXd& load,
                       const Eigen::VectorXd& guess);
/// From the same temperature everywhere.
SteadyHeat steady_heat(const ThermalModel& model, const Eigen::VectorXd& load, Temperature guess);

}  // namespace cw
