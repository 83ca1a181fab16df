#pragma once

#include "solver/coupled/heating_run.hpp"

namespace cw {

/// Where the heating would come to rest with the drive left on.
struct HeatingRest {
  Eigen::VectorXd kelvin;  ///< over the unknowns of the thermal mesh
  double reading = 0.0;    ///< at HeatingPlan::target_at [K]
  double change = 0.0;     ///< largest distance from what this power would hold [K]
  int fields = 0;          ///< solutions of the field it took
  bool settled = false;    ///< to a kelvin or two; else `reading` is the last guess
  bool melts = false;      ///< a body would begin to melt first
};

/// The steady balance of power in and power lost, sought from the temperatures a run has come to: a
/// fixed point of "the temperatures that the power at these temperatures would hold". Near a Curie
/// point power falls so steeply that simple repetition swings ever wider; Anderson's mixing of the
/// last few rounds (D. G. Anderson, J. ACM 12 (1965) 547; H. F. Walker and P. Ni, SIAM J. Numer.
/// Anal. 49 (2011) 1715, from memory) settles there too, unless the power jumps: then the mean of
/// the loads that hold the skin at its Curie point is found. Throws SolveError when a field does
/// not settle.
HeatingRest find_rest(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                      Eigen::VectorXd kelvin);

}  // namespace cw
