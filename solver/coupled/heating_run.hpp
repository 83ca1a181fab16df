#pragma once

#include "solver/coupled/heating_state.hpp"

namespace cw {

/// What a heating run is for, and how closely it is followed.
struct HeatingPlan {
  RegionId workpiece = 0;
  double low = -1e9, high = 1e9;  ///< the stretch that matters [m]
  std::optional<Temperature> target;
  ProbeKind target_at = ProbeKind::coldest;
  double until = 600.0;           ///< longest run [s]
  std::vector<HeatEvent> events;  ///< noted on the way, beside the target
  /// Largest part of the induced power that may turn up elsewhere than foreseen at the end of an
  /// interval: the interval follows from it.
  double tolerance = 0.04;
  /// Heat that may turn up elsewhere than foreseen in one interval, whatever its power, as a rise
  /// of all that is heated [K]: lets steps of power pass, as when a skin loses its magnetism.
  double misplaced = 0.25;
  double heat_tolerance = 0.2;  ///< of the steps of conduction, root mean square [K]
  double milestone = 100.0;     ///< hottest of the workpiece between snapshots [K]; 0: none taken
  /// What else to note at every moment, from temperatures over the unknowns [K].
  std::function<std::vector<double>(const Eigen::VectorXd&)> readings = {};
  /// Asked after every update of the field; true ends the run with a valid state.
  std::function<bool(const HeatingState&)> stop = {};
};

/// What ended a run.
enum class HeatingEnd {
  target,          ///< reached
  time,            ///< HeatingPlan::until
  stalled,         ///< hardly any of the induced power stays, and less and less
  supply_stopped,  ///< tripped, hiccups, or the tank will not ring
  interrupted      ///< by HeatingPlan::stop
};

struct HeatingOutcome {
  HeatingState state;
  HeatingEnd end = HeatingEnd::time;
};

/// Field, circuit and heat together in time. The field is solved at the ends of intervals, with the
/// temperatures that the power carried on in a straight line would make; from one solution to the
/// next nodal powers run straight, and the heat is integrated again with them. An interval whose
/// power was foreseen worse than `tolerance` is halved or so and done again, its successor follows
/// from how well it was foreseen: long in cold and in hot steel, short at the Curie point.
/// One-step throughout: from a stored state the same run follows to the last bit. Throws
/// SolveError.
HeatingOutcome run_heating(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                           std::optional<HeatingState> from, Temperature start);

/// Where the heating would come to rest with the drive left on.
struct HeatingRest {
  Eigen::VectorXd kelvin;  ///< over the unknowns of the thermal mesh
  double reading = 0.0;    ///< at HeatingPlan::target_at [K]
  double change = 0.0;     ///< of the last round [K]
  bool settled = false;    ///< else the balance jumps to and fro across a Curie point
  bool melts = false;      ///< a body would begin to melt first
};

/// The steady balance of power in and power lost, sought from the temperatures a run has come to.
HeatingRest find_rest(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                      Eigen::VectorXd kelvin);

}  // namespace cw
