#pragma once

#include "solver/coupled/heating_state.hpp"

namespace cw {

/// The target of a heating run, and its tolerances.
struct HeatingPlan {
  RegionId workpiece = 0;
  double low = -1e9, high = 1e9;  ///< the heated stretch [m]
  std::optional<Temperature> target;
  ProbeKind target_at = ProbeKind::coldest;
  double target_depth = 0.0;             ///< of ProbeKind::depth [m]
  std::optional<RegionId> target_of;     ///< body; left out: the workpiece within the stretch
  std::optional<RegionId> target_joint;  ///< only where `target_of` touches this one
  double until = 600.0;                  ///< maximum duration [s]
  std::vector<HeatEvent> events;         ///< recorded on the way, beside the target
  /// Largest share of the induced power that may be in the wrong place at the end of an interval,
  /// compared with the prediction. It determines the length of the interval.
  double tolerance = 0.02;
  /// Heat that may be in the wrong place after one interval, whatever its power, given as a rise of
  /// everything that is heated [K]. It lets discontinuities of power pass, as when a skin loses its
  /// magnetism.
  double misplaced = 0.5;
  double heat_tolerance = 0.5;  ///< of the steps of conduction, root mean square [K]
  double milestone = 100.0;  ///< interval between snapshots, in temperature of the hottest place of
                             ///< the workpiece [K]; 0: none
  /// Further readings at every moment, from temperatures [K] and enthalpies [J/m^3] over the
  /// unknowns.
  std::function<std::vector<double>(const Eigen::VectorXd&, const Eigen::VectorXd&)> readings = {};
  /// Called with the temperatures while the supply holds a skin at its Curie point and little of
  /// the power is stored. True means that the target cannot be reached; the run then ends as
  /// stalled.
  std::function<bool(const Eigen::VectorXd&)> out_of_reach = {};
  /// Called after every update of the field except the last; true ends the run with a valid state.
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
  stalled,         ///< the work loses nearly all of the induced power, and its gain is falling
  supply_stopped,  ///< tripped, hiccups, or the tank will not ring
  interrupted      ///< by HeatingPlan::stop
};

struct HeatingOutcome {
  HeatingState state;
  HeatingEnd end = HeatingEnd::time;
  double conduction_s = 0.0;  ///< computing time for conduction of heat
};

/// Field, circuit and heat together in time. The field is solved at the ends of intervals, with
/// predicted temperatures: the powers are extrapolated with the order that would have predicted the
/// last solution best. Afterwards the nodal powers are interpolated along the parabola through the
/// last three solutions (linearly if they are discontinuous), and conduction is integrated again
/// with them. If the prediction missed the power by more than `tolerance`, the interval is
/// shortened and repeated. The length of the next interval follows from the error of the
/// prediction: long in cold and in hot steel, short at the Curie point. The method is one-step
/// throughout: a run continued from a stored state gives the same bits. Throws SolveError.
HeatingOutcome run_heating(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                           std::optional<HeatingState> from, Temperature start);

}  // namespace cw
