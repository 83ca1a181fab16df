#pragma once

#include "solver/coupled/heating_state.hpp"

namespace cw {

/// What a heating run is for, and how closely it is followed.
struct HeatingPlan {
  RegionId workpiece = 0;
  double low = -1e9, high = 1e9;  ///< the stretch that matters [m]
  std::optional<Temperature> target;
  ProbeKind target_at = ProbeKind::coldest;
  double target_depth = 0.0;             ///< of ProbeKind::depth [m]
  std::optional<RegionId> target_of;     ///< body; left out: the workpiece within the stretch
  std::optional<RegionId> target_joint;  ///< only where `target_of` touches this one
  double until = 600.0;                  ///< longest run [s]
  std::vector<HeatEvent> events;         ///< noted on the way, beside the target
  /// Largest part of the induced power that may turn up elsewhere than predicted at the end of an
  /// interval: the interval follows from it.
  double tolerance = 0.02;
  /// Heat that may turn up elsewhere than predicted in one interval, whatever its power, as a rise
  /// of all that is heated [K]: lets steps of power pass, as when a skin loses its magnetism.
  double misplaced = 0.5;
  double heat_tolerance = 0.5;  ///< of the steps of conduction, root mean square [K]
  double milestone = 100.0;     ///< hottest of the workpiece between snapshots [K]; 0: none taken
  /// What else to note at every moment, from temperatures [K] and enthalpies [J/m^3] over the
  /// unknowns.
  std::function<std::vector<double>(const Eigen::VectorXd&, const Eigen::VectorXd&)> readings = {};
  /// Asked, with the temperatures, while the supply holds a skin at its Curie point and little of
  /// the power is kept: whether the target lies beyond what it can come to. True ends the run as
  /// stalled.
  std::function<bool(const Eigen::VectorXd&)> out_of_reach = {};
  /// Asked after every update of the field but the last; true ends the run with a valid state.
  std::function<bool(const HeatingState&)> stop = {};

  [[nodiscard]] Probe target_probe() const {
    if (!target_of) return {target_at, workpiece, low, high, target_depth, {}};
    return {target_at, *target_of, -1e9, 1e9, 0.0, target_joint};
  }
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
  double conduction_s = 0.0;  ///< of computing, spent on conduction of heat
};

/// Field, circuit and heat together in time. The field is solved at the ends of intervals, with the
/// temperatures that the power carried on would make, to the order that served best last; from one
/// solution to the next nodal powers run along the parabola through the last three, straight where
/// they are discontinuous, and the heat is integrated again with them. An interval whose power was
/// predicted worse than `tolerance` is halved or so and done again, its successor follows from how
/// well it was predicted: long in cold and in hot steel, short at the Curie point. One-step
/// throughout: from a stored state the same run follows to the last bit. Throws SolveError.
HeatingOutcome run_heating(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                           std::optional<HeatingState> from, Temperature start);

}  // namespace cw
