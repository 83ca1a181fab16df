#pragma once

#include <memory>
#include <optional>

#include "solver/thermal/probe.hpp"

namespace cw {

/// Everything a run needs to continue. A run continued from a stored state gives the same bits.
struct ThermalState {
  double time = 0.0;          ///< [s]
  Eigen::VectorXd enthalpy;   ///< one per unknown [J/m^3]
  Eigen::VectorXd by_route;   ///< energy through each route since the start [J]
  double supplied = 0.0;      ///< energy of the source since the start [J]
  double at_start = 0.0;      ///< stored when the run started [J]
  double next_step = 0.0;     ///< [s]; 0: not yet known
  std::vector<char> reached;  ///< events that have happened
};

/// A source that changes linearly from `first` at `from` to `last` at `until` and is constant
/// outside.
struct HeatSource {
  double from = 0.0, until = 0.0;  ///< [s]; equal: constant, `first` alone is read
  Eigen::VectorXd first, last;     ///< nodal powers [W]
  /// Half their second derivative [W/s^2], multiplied by (time - from)(time - until) and added;
  /// empty if they are linear.
  Eigen::VectorXd bend = {};
};

HeatSource constant_source(Eigen::VectorXd load);

struct StepperSettings {
  double tolerance = 0.05;    ///< local error of a step, root mean square over the nodes [K]
  double largest_step = 0.0;  ///< [s]; 0: no limit
  long most_steps = 200000;   ///< in one `advance`
  /// Called after every step; true ends `advance` with a valid state.
  std::function<bool(double time)> stop = {};
};

/// What ended an `advance`.
struct Advance {
  double time = 0.0;
  std::vector<std::size_t> events;  ///< indices of those reached now; empty at `until`
  bool stopped = false;             ///< by StepperSettings::stop
};

/// Cost so far, for the bench.
struct StepperCost {
  long steps = 0, evaluations = 0, factorisations = 0, rejected = 0;
};

/// Approximate future temperatures.
struct Prediction {
  Warmths at_end;
  double to_event = 1.0;  ///< share of the way to the first event not yet reached; 1: there is none
};

/// Energy balance [J].
struct HeatLedger {
  double supplied = 0.0, stored = 0.0;
  std::vector<double> by_route;  ///< of ThermalModel::routes
  double lost = 0.0;             ///< by the routes that leave

  /// (supplied - stored - lost) / the largest of the three; nothing is booked as a remainder.
  [[nodiscard]] double error() const;
};

/// Adaptive implicit integration in time (a diagonally implicit Runge-Kutta pair of order 3 with an
/// embedded one of order 2, stiffly accurate). One-step: every `advance` starts afresh from the
/// state, so a run resumed from a stored state equals an uninterrupted one. Losses are integrated
/// with the temperatures, by the same stages.
class ThermalStepper {
 public:
  /// `model` must outlive it. Throws std::invalid_argument when the state is not one of the model.
  ThermalStepper(const ThermalModel& model, ThermalState state, StepperSettings settings = {});
  ~ThermalStepper();
  ThermalStepper(ThermalStepper&&) noexcept;
  ThermalStepper& operator=(ThermalStepper&&) noexcept;

  /// Adds an event. Events occur once and are numbered in the order of the calls; an event that a
  /// stored state has already reached is not reported again.
  void watch(const HeatEvent& event);

  /// Continues from another state of the same model, earlier or later; the events stay.
  void restart(const ThermalState& state);

  /// Integrates to `until`, or to the first event not yet reached. Throws SolveError with the time.
  Advance advance(double until, const HeatSource& source);

  /// Approximate temperatures at `until`: the first two implicit stages of one step, of order 2,
  /// whatever the error. The state does not change. Accurate enough to compute the power there;
  /// nothing if the step is too long for its equations to be solved. Until the next prediction,
  /// `advance` starts with the matrix of the prediction and takes it as first guess for its stages.
  /// So a run resumed from a stored state has to begin with a prediction as well.
  [[nodiscard]] std::optional<Prediction> predict(double until, const HeatSource& source);

  [[nodiscard]] const ThermalState& state() const;
  [[nodiscard]] Warmths warmths() const;
  [[nodiscard]] HeatLedger ledger() const;
  [[nodiscard]] StepperCost cost() const;

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

/// A state to start from.
ThermalState start_at(const ThermalModel& model, Temperature uniform);
ThermalState start_from(const ThermalModel& model, const Eigen::VectorXd& kelvin);

}  // namespace cw
