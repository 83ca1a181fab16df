#pragma once

#include <deque>

#include "solver/coupled/heating_run.hpp"

namespace cw {

/// Of the last rounds of a search: by how much each changed the temperatures, and how much that
/// changed the difference to their image [K].
struct RestRounds {
  std::deque<Eigen::VectorXd> change, response;
};

/// The steady state that heating would reach if the drive stayed on.
struct HeatingRest {
  Eigen::VectorXd kelvin;  ///< over the unknowns of the thermal mesh
  double reading = 0.0;    ///< at HeatingPlan::target_at [K]
  double change = 0.0;   ///< largest difference from the temperatures that this power would sustain
                         ///< [K]
  int fields = 0;        ///< number of field solutions
  bool settled = false;  ///< converged to a kelvin or two; else `reading` is the last guess
  bool melts = false;    ///< a body would begin to melt first
  RestRounds rounds;     ///< a start for the search in a similar heater
};

/// Balance of power in and power lost in the steady state, starting from the temperatures of a run.
/// It is a fixed point of the map from temperatures to "the temperatures that the power at these
/// temperatures would sustain". Near a Curie point power falls so steeply that plain iteration
/// diverges. Anderson's mixing of the last few rounds (D. G. Anderson, J. ACM 12 (1965) 547; H. F.
/// Walker and P. Ni, SIAM J. Numer. Anal. 49 (2011) 1715, from memory) converges there too, unless
/// the power is discontinuous: then the mean of the loads that hold the skin at its Curie point is
/// found. `rounds`: of a search in a heater on the same mesh that differs little. Throws
/// SolveError if a field does not converge.
HeatingRest find_rest(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                      Eigen::VectorXd kelvin, RestRounds rounds = {});

}  // namespace cw
