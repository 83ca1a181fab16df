#include "solver/thermal/thermal_stepper.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/fem/factorisation.hpp"
#include "solver/thermal/arkode_session.hpp"

namespace cw {
namespace {

/// Energies of routes never limit a step, since they follow from the temperatures.
constexpr double no_tolerance = 1e30;

struct Watched {
  HeatEvent event;
  EventSite site;
};

/// Accuracy to which a stage is solved, in tolerances of a step.
struct Closeness {
  double close;  ///< largest remaining error
  double near;   ///< last correction that is accepted if `close` was not reached
  int most;      ///< number of corrections
};

/// Thin layers magnify the remaining error of a stage: at a tenth it becomes ten times the error of
/// the step (a cooling rod, 1300 K, radiation and film).
constexpr Closeness for_a_step{0.04, 0.04, 8};
/// Enough to tell where power is needed.
constexpr Closeness to_predict{1.0, 10.0, 5};

/// Enthalpies that satisfy a stage, and the powers that belong to them [W].
struct StageSolution {
  Eigen::VectorXd enthalpy, by_route;
};

Eigen::VectorXd source_at(const HeatSource& source, double time) {
  if (!(source.until > source.from)) return source.first;
  const double share = std::clamp((time - source.from) / (source.until - source.from), 0.0, 1.0);
  if (source.bend.size() == 0) return (1 - share) * source.first + share * source.last;
  const double length = source.until - source.from;
  return (1 - share) * source.first + share * source.last -
         share * (1 - share) * length * length * source.bend;
}

}  // namespace

HeatSource constant_source(Eigen::VectorXd load) {
  return {0.0, 0.0, std::move(load), {}};
}

double HeatLedger::error() const {
  const double scale = std::max({std::abs(supplied), std::abs(stored), std::abs(lost)});
  return scale > 0.0 ? (supplied - stored - lost) / scale : 0.0;
}

struct ThermalStepper::Work {
  const ThermalModel* model;
  ThermalState state;
  StepperSettings settings;
  HeatTangent tangent;
  std::vector<Watched> watched;
  Eigen::VectorXd tolerance;
  StepperCost cost;
  Eigen::VectorXd slope;    ///< dT/dh of the last tangent
  double last_gamma = 0.0;  ///< of the last factorisation; 0: there is no tangent
  double rate = 1.0;        ///< remaining share of an error after a correction
  Eigen::VectorXd drift;    ///< of enthalpy, as predicted [W/m^3]; empty: not predicted

  [[nodiscard]] Eigen::Index unknowns() const { return state.enthalpy.size(); }
  [[nodiscard]] Eigen::VectorXd packed() const;
  void unpack(const Eigen::VectorXd& y);
  [[nodiscard]] std::vector<std::size_t> pending() const;
  std::vector<std::size_t> reach(const std::vector<std::size_t>& events,
                                 const std::vector<int>& found);
  [[nodiscard]] double share_to_event(const Eigen::VectorXd& there) const;
  void take_tangent(const Warmths& at, double gamma);
  void use_step(double gamma);
  StepChange correction(const Eigen::VectorXd& left, Eigen::VectorXd& by_route) const;
  std::optional<StageSolution> stage(const Eigen::VectorXd& base, Eigen::VectorXd h, double gamma,
                                     const Eigen::VectorXd& load, Closeness closeness);
  ImplicitSystem system(const HeatSource& source, std::vector<std::size_t> events);
  void set_roots(ImplicitSystem& s, std::vector<std::size_t> events);
};

/// The integrator's vector: enthalpies, energies of the routes, energy supplied.
Eigen::VectorXd ThermalStepper::Work::packed() const {
  Eigen::VectorXd y(unknowns() + state.by_route.size() + 1);
  y << state.enthalpy, state.by_route, state.supplied;
  return y;
}

void ThermalStepper::Work::unpack(const Eigen::VectorXd& y) {
  state.enthalpy = y.head(unknowns());
  state.by_route = y.segment(unknowns(), state.by_route.size());
  state.supplied = y[y.size() - 1];
}

std::vector<std::size_t> ThermalStepper::Work::pending() const {
  std::vector<std::size_t> events;
  for (std::size_t i = 0; i < watched.size(); ++i)
    if (!state.reached[i]) events.push_back(i);
  return events;
}

/// Those of these events that were found.
std::vector<std::size_t> ThermalStepper::Work::reach(const std::vector<std::size_t>& events,
                                                     const std::vector<int>& found) {
  std::vector<std::size_t> reached;
  for (std::size_t i = 0; i < found.size(); ++i)
    if (found[i] != 0) {
      reached.push_back(events[i]);
      state.reached[events[i]] = 1;
    }
  return reached;
}

ImplicitSystem ThermalStepper::Work::system(const HeatSource& source,
                                            std::vector<std::size_t> events) {
  const Eigen::Index n = unknowns();
  ImplicitSystem s;
  s.tolerance = Eigen::VectorXd::Constant(n + state.by_route.size() + 1, no_tolerance);
  s.tolerance.head(n) = tolerance;
  s.rate = [this, &source, n](double t, const Eigen::VectorXd& y, Eigen::VectorXd& out) {
    ++cost.evaluations;
    const Eigen::VectorXd load = source_at(source, t);
    const HeatFlows b = model->balance(model->warmths(y.head(n)).kelvin, load);
    out.resize(y.size());
    out << b.into.cwiseQuotient(model->mesh().volume), b.by_route, load.sum();
  };
  s.solve = [this, &source, n](const ImplicitStage& at, Eigen::VectorXd& y) {
    const Eigen::VectorXd load = source_at(source, at.time);
    if (at.first) rate = 1.0;  // an old tangent has to prove again that it is still good
    const auto found = stage(at.base.head(n), y.head(n), at.gamma, load, for_a_step);
    if (!found) return false;
    const Eigen::Index routes = state.by_route.size();
    y.head(n) = found->enthalpy;
    y.segment(n, routes) = at.base.segment(n, routes) + at.gamma * found->by_route;
    y[n + routes] = at.base[n + routes] + at.gamma * load.sum();
    return true;
  };
  if (drift.size() > 0) {
    s.drift = Eigen::VectorXd::Zero(n + state.by_route.size() + 1);
    s.drift.head(n) = drift;
  }
  set_roots(s, std::move(events));
  return s;
}

void ThermalStepper::Work::set_roots(ImplicitSystem& s, std::vector<std::size_t> events) {
  for (const std::size_t e : events) s.directions.push_back(watched[e].event.rising ? 1 : -1);
  s.roots = [this, events = std::move(events)](double /*t*/, const Eigen::VectorXd& y,
                                               Eigen::VectorXd& values) {
    for (std::size_t i = 0; i < events.size(); ++i)
      values[static_cast<Eigen::Index>(i)] = watched[events[i]].site.above(y.head(unknowns()));
  };
}

ThermalStepper::ThermalStepper(const ThermalModel& model, ThermalState state,
                               StepperSettings settings)
    : work_(std::make_unique<Work>(Work{&model,
                                        std::move(state),
                                        std::move(settings),
                                        model.make_tangent(),
                                        {},
                                        {},
                                        {},
                                        {},
                                        0.0,
                                        1.0,
                                        {}})) {
  Work& w = *work_;
  const auto routes = static_cast<Eigen::Index>(model.routes().size());
  if (w.state.enthalpy.size() != model.mesh().unknowns() || w.state.by_route.size() != routes)
    throw std::invalid_argument(fmt::format(
        "found a state of {} temperatures and {} routes; allowed: one of this model, {} and {}",
        w.state.enthalpy.size(), w.state.by_route.size(), model.mesh().unknowns(), routes));
  if (!(w.settings.tolerance > 0.0))
    throw std::invalid_argument(
        fmt::format("found a tolerance of {} K; allowed: above 0", w.settings.tolerance));
  const Warmths cold = model.warmths(model.enthalpy_at(Temperature::celsius(20.0)));
  w.tolerance.resize(model.mesh().unknowns());
  for (Eigen::Index i = 0; i < w.tolerance.size(); ++i)
    w.tolerance[i] = w.settings.tolerance / std::max(cold.slope[i], 1e-12);
}

ThermalStepper::~ThermalStepper() = default;
ThermalStepper::ThermalStepper(ThermalStepper&&) noexcept = default;
ThermalStepper& ThermalStepper::operator=(ThermalStepper&&) noexcept = default;

void ThermalStepper::watch(const HeatEvent& event) {
  work_->watched.push_back({event, EventSite(*work_->model, event)});
  if (work_->state.reached.size() < work_->watched.size()) work_->state.reached.push_back(0);
}

void ThermalStepper::restart(const ThermalState& state) {
  work_->state = state;
  if (work_->state.reached.size() < work_->watched.size())
    work_->state.reached.resize(work_->watched.size(), 0);
}

namespace {

/// Equal steps instead of long ones and a short one at the end.
double even_step(double length, double fitting) {
  constexpr double safely = 1.1;  // relative to the largest that fits
  if (!(fitting > 0.0)) return 0.0;
  return length / std::ceil(length / (safely * fitting));
}

}  // namespace

Advance ThermalStepper::advance(double until, const HeatSource& source) {
  using Outcome = ArkodeSession::Outcome;
  Work& w = *work_;
  Advance result{w.state.time, {}, false};
  if (!(until > w.state.time)) return result;
  const std::vector<std::size_t> pending = w.pending();
  if (w.drift.size() == 0) w.last_gamma = 0.0;
  ArkodeSession session(
      w.system(source, pending), w.state.time, w.packed(),
      {even_step(until - w.state.time, w.state.next_step), w.settings.largest_step, until});
  double next = 0.0, before = 0.0;  // the last step may be cut short and then tells less than the
                                    // one before
  for (long count = 0;; ++count) {
    if (count == w.settings.most_steps)
      throw SolveError(
          fmt::format("heat conduction at t = {:.6g} s: {} steps did not reach {:.6g} s",
                      session.time(), count, until));
    const auto outcome = session.step();
    w.state.time = session.time();
    const double fitting = session.fitting_step();
    next = std::max(fitting, before);
    before = fitting;
    ++w.cost.steps;
    if (outcome == Outcome::at_root) result.events = w.reach(pending, session.roots_found());
    if (outcome == Outcome::stepped)
      result.stopped = w.settings.stop && w.settings.stop(w.state.time);
    if (outcome != Outcome::stepped || result.stopped) break;
  }
  w.unpack(session.y());
  w.state.next_step = next;
  w.cost.rejected += session.rejected();
  result.time = w.state.time;
  return result;
}

void ThermalStepper::Work::take_tangent(const Warmths& at, double gamma) {
  slope = at.slope;
  model->tangent(at.kelvin, tangent);
  last_gamma = 0.0;
  rate = 1.0;
  use_step(gamma);
}

void ThermalStepper::Work::use_step(double gamma) {
  constexpr double rounding = 1e-9;
  if (std::abs(gamma - last_gamma) <= rounding * gamma) return;
  ++cost.factorisations;
  tangent.matrix.factorise_step(model->mesh().volume, slope, gamma);
  last_gamma = gamma;
}

/// Change by one correction if a stage misses its equation by `left`; held temperatures take their
/// part.
StepChange ThermalStepper::Work::correction(const Eigen::VectorXd& left,
                                            Eigen::VectorXd& by_route) const {
  StepChange change = tangent.matrix.solve_step(left);
  for (Eigen::Index i = 0; i < left.size(); ++i)
    if (model->held()[i]) {
      change.enthalpy[i] = left[i];
      by_route[model->hold_routes()[i]] -= change.given[i];
    }
  return change;
}

/// Solves h = base + gamma f(h) from a guess, f the rate under `load`, by Newton's method with the
/// last tangent, which is renewed if convergence is slow. Nothing if this diverges, as it may if
/// much is to melt at once.
std::optional<StageSolution> ThermalStepper::Work::stage(const Eigen::VectorXd& base,
                                                         Eigen::VectorXd h, double gamma,
                                                         const Eigen::VectorXd& load,
                                                         Closeness closeness) {
  constexpr double lost = 3000.0;  // [K]
  constexpr double worth = 2.0;    // corrections that a new tangent must save
  const Eigen::VectorXd& volume = model->mesh().volume;
  double before = 0.0;
  bool fresh = last_gamma == 0.0;
  for (int k = 0;; ++k) {
    const Warmths w = model->warmths(h);
    if (!(w.kelvin.minCoeff() > 0.0)) return std::nullopt;
    if (fresh)
      take_tangent(w, gamma);
    else
      use_step(gamma);
    ++cost.evaluations;
    HeatFlows b = model->balance(w.kelvin, load);
    const Eigen::VectorXd left = base + gamma * b.into.cwiseQuotient(volume) - h;
    const StepChange change = correction(left, b.by_route);
    h += change.enthalpy;
    const double now = std::sqrt(change.enthalpy.cwiseQuotient(tolerance).squaredNorm() /
                                 static_cast<double>(h.size()));
    if (k > 0) rate = std::max(0.3 * rate, now / before);
    // The first correction has another direction than those from which the rate was measured.
    const double left_over = now * (k > 0 ? std::min(1.0, rate) : std::clamp(rate, 0.1, 1.0));
    const bool close = left_over < closeness.close;
    if (close || (k + 1 == closeness.most && now < closeness.near)) {
      b.by_route += tangent.by_route * change.kelvin;
      return StageSolution{std::move(h), std::move(b.by_route)};
    }
    if (k + 1 == closeness.most || !(now * settings.tolerance < lost)) return std::nullopt;
    fresh = k > 0 && !(std::log(closeness.close / now) > worth * std::log(rate));
    before = now;
  }
}

/// Share of the straight path to other enthalpies at which the first event not yet reached lies.
double ThermalStepper::Work::share_to_event(const Eigen::VectorXd& there) const {
  double share = 1.0;
  for (const std::size_t i : pending()) {
    const double sign = watched[i].event.rising ? 1.0 : -1.0;
    const double here = sign * watched[i].site.above(state.enthalpy),
                 then = sign * watched[i].site.above(there);
    if (here < 0.0 && then > 0.0) share = std::min(share, here / (here - then));
  }
  return share;
}

std::optional<Prediction> ThermalStepper::predict(double until, const HeatSource& source) {
  Work& w = *work_;
  const Eigen::VectorXd& start = w.state.enthalpy;
  const double length = until - w.state.time;
  const Warmths now = w.model->warmths(start);
  if (!(length > 0.0)) return Prediction{now};
  constexpr double gamma = ArkodeSession::diagonal, between = 2 * gamma;
  constexpr double of_between = (0.5 - gamma) / between;  // order 2
  ++w.cost.evaluations;
  const Eigen::VectorXd slope = w.model->balance(now.kelvin, source_at(source, w.state.time))
                                    .into.cwiseQuotient(w.model->mesh().volume);
  w.take_tangent(now, gamma * length);
  const Eigen::VectorXd base = start + gamma * length * slope;
  const auto first = w.stage(base, start, gamma * length,
                             source_at(source, w.state.time + between * length), to_predict);
  if (!first) return std::nullopt;
  const auto last = w.stage(start + (1 - gamma - of_between) * length * slope +
                                of_between / gamma * (first->enthalpy - base),
                            start + (first->enthalpy - start) / between, gamma * length,
                            source_at(source, until), to_predict);
  if (!last) return std::nullopt;
  w.drift = (last->enthalpy - start) / length;
  return Prediction{w.model->warmths(last->enthalpy), w.share_to_event(last->enthalpy)};
}

const ThermalState& ThermalStepper::state() const {
  return work_->state;
}

Warmths ThermalStepper::warmths() const {
  return work_->model->warmths(work_->state.enthalpy);
}

HeatLedger ThermalStepper::ledger() const {
  const Work& w = *work_;
  HeatLedger ledger{
      w.state.supplied, w.model->stored(w.state.enthalpy) - w.state.at_start, {}, 0.0};
  for (Eigen::Index i = 0; i < w.state.by_route.size(); ++i) {
    ledger.by_route.push_back(w.state.by_route[i]);
    if (w.model->routes()[i].leaves) ledger.lost += w.state.by_route[i];
  }
  return ledger;
}

StepperCost ThermalStepper::cost() const {
  return work_->cost;
}

ThermalState start_from(const ThermalModel& model, const Eigen::VectorXd& kelvin) {
  ThermalState state;
  state.enthalpy = model.enthalpy_of(kelvin);
  state.by_route = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(model.routes().size()));
  state.at_start = model.stored(state.enthalpy);
  return state;
}

ThermalState start_at(const ThermalModel& model, Temperature uniform) {
  return start_from(model, Eigen::VectorXd::Constant(model.mesh().unknowns(), uniform.kelvin));
}

}  // namespace cw
