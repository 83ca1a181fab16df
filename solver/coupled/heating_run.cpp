#include "solver/coupled/heating_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

#include "solver/coupled/load_slices.hpp"
#include "solver/field/sources.hpp"

namespace cw {

namespace {

/// Net power over induced power below which the run ends as stalled.
constexpr double stall_share = 0.005;
/// Rise of the mean temperature in the first interval [K].
constexpr double first_rise = 8.0;
constexpr double longest_growth = 2.5, strongest_cut = 0.25;
/// Rise between lines of the history, at least [K].
constexpr double between_lines = 100.0;
/// Accuracy of the moment at which the supply stops, in rise of temperature [K].
constexpr double narrow = 2.0;
/// The slope of power changes where metal loses its magnetism or melts: an interval does not extend
/// far beyond the first such event.
constexpr double well_before = 0.9, just_past = 1.02;
/// Largest change of power that may be predicted over an interval: a linear extrapolation holds no
/// further.
constexpr double farthest = 0.3;
/// Largest accepted ratio of the error to the tolerance: intervals aim at 0.85.
constexpr double passes = 1.3;

double lost_of(const ThermalModel& model, const Eigen::VectorXd& by_route) {
  double lost = 0;
  for (Eigen::Index i = 0; i < by_route.size(); ++i)
    if (model.routes()[i].leaves) lost += by_route[i];
  return lost;
}

class Heating {
 public:
  Heating(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan, HeatingState state)
      : coil_(coil),
        model_(model),
        plan_(plan),
        state_(std::move(state)),
        stepper_(model, state_.thermal, {plan.heat_tolerance}),
        slices_(model.mesh()) {
    for (const ProbeKind kind : {ProbeKind::surface, ProbeKind::centre, ProbeKind::coldest,
                                 ProbeKind::mean, ProbeKind::hottest})
      sites_.emplace_back(model, Probe{kind, plan.workpiece, plan.low, plan.high});
    for (const HeatEvent& event : plan.events) stepper_.watch(event);
    if (plan.target) stepper_.watch({"target", plan.target_probe(), *plan.target});
  }

  HeatingEnd run() {
    if (state_.moments.empty()) begin();
    for (bool goes_on = false;; goes_on = true) {
      if (state_.now.stopped) return HeatingEnd::supply_stopped;
      if (state_.thermal.time >= plan_.until * (1 - 1e-12)) return HeatingEnd::time;
      // The callback may store the state. Never call it with the last one, which has no field left
      // to solve.
      if (goes_on && plan_.stop && plan_.stop(state_)) return HeatingEnd::interrupted;
      const double before = state_.net_share;
      if (step()) return HeatingEnd::target;
      if (state_.net_share < stall_share && state_.net_share <= before) return HeatingEnd::stalled;
      if (out_of_reach()) return HeatingEnd::stalled;
    }
  }

  bool out_of_reach() {
    if (!plan_.out_of_reach || !state_.hunting.worth_a_look(state_.net_share)) return false;
    const Eigen::VectorXd kelvin = model_.warmths(state_.thermal.enthalpy).kelvin;
    const bool out = plan_.out_of_reach(kelvin);
    coil_.remember(state_.coil);
    if (out) coil_.solve(kelvin);  // of the last snapshot
    return out;
  }

  /// Adds the last moment as a snapshot.
  void finish() {
    if (!state_.snapshots.empty() && state_.snapshots.back().time < state_.thermal.time)
      snapshot(model_.warmths(state_.thermal.enthalpy).kelvin);
  }

  [[nodiscard]] double conduction_s() const { return conduction_.count(); }
  [[nodiscard]] HeatingState take() { return std::move(state_); }

 private:
  void begin() {
    const Eigen::VectorXd kelvin = model_.warmths(state_.thermal.enthalpy).kelvin;
    state_.now = coil_.solve(kelvin);
    coil_.keep();
    state_.coil = coil_.memory();
    ++state_.updates;
    state_.energy.assign(parts_of(state_.now).size(), 0.0);
    for (Eigen::Index i = 0; i < kelvin.size(); ++i)
      if (state_.now.load[i] > 0) state_.capacity += model_.mesh().volume[i] / slope_at(i);
    state_.next =
        state_.now.work_W > 0 ? first_rise * state_.capacity / state_.now.work_W : plan_.until;
    // A thin skin warms first: the first step of conduction is a small part of the interval.
    if (state_.thermal.next_step <= 0.0) state_.thermal.next_step = 0.05 * state_.next;
    note(state_.now, kelvin, true);
    snapshot(kelvin);
  }

  /// The field is that of the last solution, at almost these temperatures.
  void snapshot(const Eigen::VectorXd& kelvin) {
    if (!(plan_.milestone > 0)) return;
    state_.snapshots.push_back({state_.thermal.time, kelvin, state_.now.current,
                                scaled(coil_.coil().series.field, state_.now.current)});
    state_.judged += state_.now.work_W;
    state_.mesh_error += state_.now.work_W * coil_.mesh_error(plan_.workpiece);
  }

  /// Whether a multiple of the milestone lies between the last snapshot and now.
  [[nodiscard]] bool passed_milestone(const Eigen::VectorXd& kelvin) const {
    if (!(plan_.milestone > 0) || state_.snapshots.empty()) return false;
    const double before = sites_[4].read(state_.snapshots.back().kelvin);
    return std::floor(sites_[4].read(kelvin) / plan_.milestone) >
           std::floor(before / plan_.milestone);
  }

  [[nodiscard]] double slope_at(Eigen::Index i) const {
    return std::max(warmth(model_.shares(static_cast<int>(i)), state_.thermal.enthalpy[i]).slope,
                    1e-12);
  }

  /// Runs an action and counts its time as conduction.
  template <class Action>
  auto clocked(const Action& action) {
    const auto begin = std::chrono::steady_clock::now();
    auto result = action();
    conduction_ += std::chrono::steady_clock::now() - begin;
    return result;
  }

  /// One interval; true when the target was reached in it.
  bool step() {
    const double begin = state_.thermal.time;
    for (;;) {
      const double length = std::min(state_.next, plan_.until - begin);
      const Eigen::VectorXd predicted = predict(length, state_.order);
      const std::optional<Prediction> ahead = clocked([&] {
        stepper_.restart(state_.thermal);
        return stepper_.predict(begin + length,
                                {begin, begin + length, state_.now.load, predicted});
      });
      if (!ahead) {
        state_.next = 0.5 * length;
        continue;
      }
      if (ahead->to_event < well_before && rise_of(length) > narrow) {
        state_.next = length * std::clamp(just_past * ahead->to_event, strongest_cut, well_before);
        continue;
      }
      HeaterPoint then = coil_.solve(ahead->at_end.kelvin, expected(length));
      ++state_.updates;
      const double miss = slices_.distance(then.load, predicted, then.load.sum());
      // A discontinuity of power brings little heat in a short interval, and is then accepted.
      const double failing = std::min(miss / plan_.tolerance, miss * rise_of(length) / misplaced());
      if (then.stopped) {
        if (rise_of(length) > narrow) {
          state_.next = 0.5 * length;
          continue;
        }
        state_.now.stopped = true;
        state_.events.push_back({"the supply stops", begin});
        return false;
      }
      state_.order = best_order(length, then);
      if (failing > passes) {
        refuse(length, miss, failing);
        continue;
      }
      return accept(length, std::move(then), failing, miss <= plan_.tolerance);
    }
  }

  /// Frequency and current extrapolated with their present trends.
  [[nodiscard]] CoilPoint expected(double length) const {
    const auto on = [length](double value, double trend) {
      constexpr double farthest_point = 0.1;
      return value * std::exp(std::clamp(length * trend, -farthest_point, farthest_point));
    };
    return {{on(state_.now.frequency.hertz, state_.frequency_trend)},
            on(state_.now.current, state_.current_trend)};
  }

  /// Rise of everything that is heated in an interval, without losses [K].
  [[nodiscard]] double rise_of(double length) const {
    return state_.now.work_W * length / state_.capacity;
  }

  /// `failing` is the ratio of error to tolerance. It grows with the interval, with its square or
  /// faster if there is a slope to extrapolate.
  [[nodiscard]] double next_factor(double failing) const {
    const double root = state_.slope.size() > 0 && state_.order > 0 ? 0.5 : 1.0;
    return std::clamp(0.85 / std::pow(std::max(failing, 1e-9), root), strongest_cut,
                      longest_growth);
  }

  // Power may be discontinuous, as when a skin at the supply's limit loses its magnetism. Then the
  // error does not shrink with the interval: bisection closes in on the discontinuity until the
  // misplaced heat is small.

  [[nodiscard]] double misplaced() const { return plan_.misplaced * state_.hunting.leniency(); }

  /// Length of an interval in which this error of power misplaces little heat [s].
  [[nodiscard]] double harmless(double miss) const {
    constexpr double safely = 0.9;
    return safely * misplaced() / (miss * rise_of(1.0));
  }

  void refuse(double length, double miss, double failing) {
    constexpr double as_much = 0.6;
    const bool discontinuous = state_.refused_until > 0.0 && miss > as_much * state_.missed;
    state_.next = discontinuous ? std::clamp(harmless(miss), 0.3 * length, 0.8 * length)
                                : length * std::clamp(next_factor(failing), 0.5, 0.8);
    state_.refused_until = state_.thermal.time + length;
    state_.missed = miss;
    ++state_.rejected;
  }

  void close_in(double now) {
    const double rest = state_.refused_until - now;
    if (rest > harmless(state_.missed))
      state_.next = std::min(state_.next, 0.5 * rest);
    else
      state_.refused_until = 0.0;
  }

  /// Nodal powers extrapolated: constant, along the last chord, or along the tangent at the end of
  /// the last parabola.
  [[nodiscard]] Eigen::VectorXd predict(double length, int order) const {
    if (state_.slope.size() == 0 || order == 0) return state_.now.load;
    Eigen::VectorXd change = length * state_.slope;
    if (order == 2 && state_.bend.size() > 0) change += length * state_.interval * state_.bend;
    const double size = change.lpNorm<1>(), most = farthest * state_.now.load.lpNorm<1>();
    if (size > most) change *= most / size;
    return state_.now.load + change;
  }

  /// The order that would have predicted this point best. If a hotter skin takes less power, a
  /// power predicted too high comes out too low, the more so the longer the extrapolation.
  [[nodiscard]] int best_order(double length, const HeaterPoint& then) const {
    const auto miss = [&](int order) {
      return slices_.distance(then.load, predict(length, order), then.load.sum());
    };
    const std::array<double, 3> missed{miss(0), miss(1), miss(2)};
    int best = 2;
    for (const int order : {1, 0})
      if (missed[order] < missed[best]) best = order;
    return best;
  }

  /// Half the second derivative of a quantity with `slope` per second over the last interval and
  /// `now` over this one: of a parabola through three updates.
  template <class Value>
  [[nodiscard]] Value bend(const Value& now, const Value& slope, double length) const {
    return (now - slope) / (length + state_.interval);
  }

  /// `smooth`: power is continuous, so a parabola is nearer than a straight line.
  bool accept(double length, HeaterPoint then, double failing, bool smooth) {
    const double begin = state_.thermal.time;
    smooth = smooth && state_.slope.size() > 0;
    HeatSource source{begin, begin + length, state_.now.load, then.load};
    if (smooth)
      source.bend =
          bend<Eigen::VectorXd>((then.load - state_.now.load) / length, state_.slope, length);
    std::vector<double> part_slope = parts_of(then);
    const std::vector<double> parts_now = parts_of(state_.now);
    for (std::size_t i = 0; i < part_slope.size(); ++i)
      part_slope[i] = (part_slope[i] - parts_now[i]) / length;
    stepper_.restart(state_.thermal);
    bool reached = false, begins = false;  // a change of the metal
    const int pieces = std::clamp(static_cast<int>(rise_of(length) / between_lines), 1, 4);
    int piece = 1;
    while (!reached && stepper_.state().time < begin + length) {
      const double until = piece == pieces ? begin + length : begin + length * piece / pieces;
      const Advance a = clocked([&] { return stepper_.advance(until, source); });
      if (a.events.empty()) ++piece;
      for (const std::size_t e : a.events) {
        const bool is_target = e == plan_.events.size();
        state_.events.push_back({is_target ? "target" : plan_.events[e].name, a.time});
        reached = reached || is_target;
        begins = begins || (!is_target && plan_.events[e].probe.kind == ProbeKind::hottest);
      }
      if (a.time < begin + length)
        note(between(state_.now, then, (a.time - begin) / length), stepper_.warmths().kelvin,
             false);
    }
    const double end = stepper_.state().time;
    if (end < begin + length) then = between(state_.now, then, (end - begin) / length);
    add_energies(then, end - begin);
    if (smooth) add_bends(part_slope, length, end - begin);
    if (state_.slope.size() > 0) {
      // Compared with the parabola of the interval before; if there is none, with the present one.
      const double now = bend((then.load.sum() - state_.now.load.sum()) / (end - begin),
                              state_.slope.sum(), length);
      const double before = smooth ? state_.bend.sum() : 0.0;
      state_.interpolation_error += std::abs(now - before) * length * length * length / 6;
    }
    state_.bend = std::move(source.bend);
    state_.part_slope = std::move(part_slope);
    state_.slope = (then.load - state_.now.load) / (end - begin);
    state_.frequency_trend =
        std::log(then.frequency.hertz / state_.now.frequency.hertz) / (end - begin);
    state_.current_trend = std::log(then.current / state_.now.current) / (end - begin);
    state_.next = length * next_factor(failing);
    if (begins) state_.next = std::min(state_.next, narrow / rise_of(1.0));
    close_in(end);
    state_.interval = length;
    state_.thermal = stepper_.state();
    state_.hunting.note_change(then.work_W - state_.now.work_W);
    state_.now = std::move(then);
    coil_.keep();
    state_.coil = coil_.memory();
    const Eigen::VectorXd kelvin = stepper_.warmths().kelvin;
    if (!reached) note(state_.now, kelvin, true);
    if (reached || passed_milestone(kelvin)) snapshot(kelvin);
    return reached;
  }

  void add_energies(const HeaterPoint& then, double length) {
    const std::vector<double> a = parts_of(state_.now), b = parts_of(then);
    for (std::size_t i = 0; i < a.size(); ++i) state_.energy[i] += .5 * length * (a[i] + b[i]);
  }

  /// Energy that a parabola over `length` adds in its first `until` seconds, compared with the
  /// chord.
  void add_bends(const std::vector<double>& part_slope, double length, double until) {
    const double integral = until * until * (until / 3 - length / 2);
    for (std::size_t i = 0; i < part_slope.size(); ++i)
      state_.energy[i] += integral * bend(part_slope[i], state_.part_slope[i], length);
  }

  void note(const HeaterPoint& point, const Eigen::VectorXd& kelvin, bool solved) {
    HeatingMoment m;
    m.time = solved ? state_.thermal.time : stepper_.state().time;
    m.surface = sites_[0].read(kelvin);
    m.centre = sites_[1].read(kelvin);
    m.coldest = sites_[2].read(kelvin);
    m.mean = sites_[3].read(kelvin);
    m.hottest = sites_[4].read(kelvin);
    m.frequency = point.frequency.hertz;
    m.coil_current = point.current;
    if (point.tank) {
      m.supply_current = point.tank->supply_current_A;
      m.demand = point.demand;
      m.loaded_q = point.tank->loaded_q;
      m.can_W = point.tank->can.loss_W;
      m.chokes_W = point.tank->power.chokes_W;
      m.switches_W = point.tank->power.switches_W;
    }
    m.induced_W = point.work_W;
    m.coil_W = point.coil_W;
    m.leads_W = point.leads_W;
    m.lost_W = lost_of(model_, model_.balance(kelvin, point.load).by_route);
    m.total_W = point.total_W;
    m.solved = solved;
    state_.moments.push_back(m);
    const Eigen::VectorXd& enthalpy = solved ? state_.thermal.enthalpy : stepper_.state().enthalpy;
    if (plan_.readings) state_.readings.push_back(plan_.readings(kelvin, enthalpy));
    if (solved && m.induced_W > 0)
      state_.net_share = state_.hunting.share_kept(m.induced_W, m.lost_W, state_.interval);
  }

  HeatedCoil& coil_;
  const ThermalModel& model_;
  const HeatingPlan& plan_;
  HeatingState state_;
  ThermalStepper stepper_;
  LoadSlices slices_;
  std::vector<ProbeSite> sites_;
  std::chrono::duration<double> conduction_{};
};

}  // namespace

HeatingOutcome run_heating(HeatedCoil& coil, const ThermalModel& model, const HeatingPlan& plan,
                           std::optional<HeatingState> from, Temperature start) {
  if (from) {
    coil.remember(from->coil);
  } else {
    from.emplace();
    from->thermal = start_at(model, start);
  }
  Heating heating(coil, model, plan, std::move(*from));
  const HeatingEnd end = heating.run();
  if (end != HeatingEnd::interrupted) heating.finish();
  const double conduction_s = heating.conduction_s();
  return {heating.take(), end, conduction_s};
}

}  // namespace cw
