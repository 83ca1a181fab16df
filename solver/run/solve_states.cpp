#include "solver/run/solve_states.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "mesh/generate.hpp"
#include "mesh/move_rings.hpp"
#include "mesh/split_edges.hpp"
#include "solver/coupled/settle_current.hpp"
#include "solver/field/layering.hpp"
#include "solver/heater/rings.hpp"
#include "solver/run/peak_demand.hpp"
#include "solver/run/tube_temperature.hpp"

namespace cw {

namespace {

using Clock = std::chrono::steady_clock;

/// Adds the lifetime of this object to a sum of seconds.
class Stopwatch {
 public:
  explicit Stopwatch(double& sum) : sum_(sum) {}
  ~Stopwatch() { sum_ += std::chrono::duration<double>(Clock::now() - begin_).count(); }
  Stopwatch(const Stopwatch&) = delete;
  Stopwatch& operator=(const Stopwatch&) = delete;

 private:
  double& sum_;
  Clock::time_point begin_ = Clock::now();
};

/// A state meshed and ready to solve.
struct Prepared {
  SolvedState state;
  std::unique_ptr<EddySystem> system;
};

/// How a state is meshed.
struct Meshing {
  const Sizing& sizing;
  const SystemMaker& maker;
  Spent& spent;
};

/// Meshes what is to be solved, or reuses the mesh of `before` with other media if it is suitable.
Prepared prepare(const Heater& subject, const StateTemperatures& t, const Excitation& about,
                 const Meshing& meshing, Prepared before = {}) {
  const Stopwatch watch(meshing.spent.mesh);
  FieldModel model = field_model(subject, t, about);
  if (before.system && serves_as_it_is(before.state.model.section, model.section)) {
    before.state.temperature = t;
    // The mesh still belongs to the section for which it was made.
    model.section = std::move(before.state.model.section);
    before.system->set_media(model.media);
    before.state.model = std::move(model);
    return before;
  }
  Prepared p;
  p.state.temperature = t;
  p.state.model = std::move(model);
  MeshedSystem made = meshing.maker(
      p.state.model.section,
      p.state.model.saturating.empty() ? meshing.sizing : for_saturation(meshing.sizing),
      p.state.model.media);
  p.state.mesh = std::move(made.mesh);
  p.system = std::move(made.system);
  p.state.unknowns = p.system->unknowns();
  return p;
}

/// Loss of winding and leads, which are one tube [W].
double copper_loss(const LoadedCoil& coil, double current) {
  return current * current * (coil.conductor_resistance + coil.leads.resistance_ohm);
}

void finish(Prepared& p, Frequency f, double current, const TubeTemperature& tube) {
  p.state.cooling_passes = tube.passes();
  p.state.cooling_agreement = tube.agreement();
  p.state.frequency = f;
  p.state.current = current;
  p.state.field = scaled(p.state.coil.series.field, current);
}

/// Estimates the error of the solved coil and refines the mesh if it misses the requested accuracy.
/// True if it did: the state has to be solved again. If the accuracy cannot be reached with the
/// permitted number of unknowns, the state notes it.
bool refined(Prepared& p, const LoadedCoil& coil, const AccuracyGoal& goal, Spent& spent) {
  constexpr int most_unknowns = 300000;
  const Stopwatch watch(spent.mesh);
  SolvedState& state = p.state;
  const MeshJudgement judged = judge_mesh(*p.system, state.model.winding, coil, goal);
  state.error = judged.error;
  state.shortfall = judged.shortfall;
  if (judged.split.empty() || p.system->unknowns() > most_unknowns) return false;
  try {
    auto mesh = std::make_unique<Mesh>(split_edges(*state.mesh, judged.split));
    auto system = std::make_unique<EddySystem>(*mesh, state.model.media);
    state.mesh = std::move(mesh);
    p.system = std::move(system);
  } catch (const MeshError&) {
    return false;  // the present mesh is sound, a finer one would not be
  }
  state.unknowns = p.system->unknowns();
  return true;
}

/// The coil with its load at the drive's current.
double solve_at_drive(Prepared& p, const FixedFrequency& drive, double start) {
  SolvedState& state = p.state;
  if (state.model.saturating.empty()) {
    state.coil = solve_loaded_coil(*p.system, state.model.winding, drive.frequency);
    return drive.current(state.coil.impedance());
  }
  std::shared_ptr<const NonlinearCoil> before;  // none: that of a coarser mesh does not fit
  return settle_current(drive, start, 1e-7, [&](double current) {
    state.coil =
        solve_loaded_coil(*p.system, state.model.winding,
                          {state.model.saturating, 0.0, before.get()}, drive.frequency, current);
    before = state.coil.saturated;
    return state.coil.impedance();
  });
}

SolvedState solve_bench(const Heater& subject, const FixedFrequency& drive, Effort effort,
                        Spent& spent, const StateMeans& means) {
  const double allowed = means.allowed_error.value_or(allowed_error(effort));
  const Temperature work =
      subject.workpiece ? subject.workpiece->temperature : Temperature::celsius(20.0);
  const double expected =
      drive.current({0.0, drive.frequency.omega() * rough_inductance(subject.coil)});
  TubeTemperature tube(subject);
  Prepared p;
  while (true) {
    p = prepare(subject, {work, tube.guess(), true}, {drive.frequency, expected},
                {sizing_for(effort), means.maker, spent}, std::move(p));
    const Stopwatch watch(spent.solve);
    p.state.frequency = drive.frequency;
    const double current = solve_at_drive(p, drive, expected);
    if (!tube.settled(subject, p.state, copper_loss(p.state.coil, current), work)) continue;
    if (refined(p, p.state.coil, {allowed, 1e-3, !drive.holds_current}, spent)) continue;
    p.state.name = "fixed_frequency";
    p.state.sensitivity = drive.sensitivity(p.state.coil.impedance());
    finish(p, drive.frequency, current, tube);
    return std::move(p.state);
  }
}

/// The states of a tank that rings; each starts from the solution of the one before.
class RingingStates {
 public:
  RingingStates(const Heater& subject, Effort effort, Spent& spent,
                std::vector<std::string>& warnings, const StateMeans& means)
      : subject_(subject),
        effort_(effort),
        allowed_(means.allowed_error.value_or(allowed_error(effort))),
        maker_(means.maker),
        spent_(spent),
        warnings_(warnings),
        found_(means.demand),
        solved_(means.solved),
        circuit_(tank_circuit(subject)),
        tube_(subject) {
    start_.at = unloaded_point(circuit_, rough_inductance(subject.coil));
  }

  std::vector<SolvedState> run() {
    add_empty();
    if (!subject_.workpiece) return std::move(states_);
    const Temperature cold = subject_.workpiece->temperature;
    add("cold", subject_, cold);
    if (const auto top = hottest_sought(); top && *top > cold)
      add("peak_demand", subject_, peak_demand(cold, *top));
    const auto& magnetic = subject_.workpiece->material.magnetisation;
    if (magnetic && may_pass(magnetic->curie))
      add("past_curie", subject_, {magnetic->curie.kelvin + 30});
    if (subject_.heat && subject_.heat->target) add("at_target", subject_, *subject_.heat->target);
    return std::move(states_);
  }

 private:
  void add_empty() {
    Heater empty = subject_;
    empty.workpiece.reset();
    empty.bodies.clear();
    add("empty", empty, Temperature::celsius(20.0));
  }

  /// Upper end of the search for the largest demand: the target, else the temperature at which the
  /// workpiece begins to melt, else none.
  [[nodiscard]] std::optional<Temperature> hottest_sought() const {
    if (subject_.heat && subject_.heat->target) return subject_.heat->target;
    if (subject_.workpiece->material.melting) return subject_.workpiece->material.melting->solidus;
    return std::nullopt;
  }

  /// Whether any place may get this hot on the way to the target; the skin is hotter than the core.
  [[nodiscard]] bool may_pass(Temperature level) const {
    constexpr double ahead = 250.0;  // [K], a choice of this project
    return !subject_.heat || !subject_.heat->target ||
           subject_.heat->target->kelvin + ahead > level.kelvin;
  }

  /// Whether the temperature of the tube is consistent with its loss.
  bool agrees(const Heater& subject, Prepared& p, const OperatingPoint& point, Temperature work) {
    const TankPoint& shown = point.tank.shown();
    p.state.frequency = shown.frequency;
    return tube_.settled(subject, p.state, copper_loss(*point.coil, shown.coil_current_rms_A),
                         work);
  }

  std::pair<Prepared, OperatingPoint> solve(const Heater& subject, const StateTemperatures& t,
                                            const Sizing& sizing, Prepared before = {}) {
    Prepared p = prepare(subject, t, {start_.at.frequency, start_.at.current_rms_A},
                         {sizing, maker_, spent_}, std::move(before));
    const Stopwatch watch(spent_.solve);
    LocalCoil start = start_;
    OperatingPoint point = solve_operating_point(*p.system, p.state.model.winding,
                                                 p.state.model.saturating, circuit_, start);
    if (!point.tank.no_ring) start_ = point.tank.coil;
    return std::pair{std::move(p), std::move(point)};
  }

  void add(const std::string& name, const Heater& subject, Temperature work) {
    tube_.begin();
    const auto temperatures = [&] {
      return StateTemperatures{work, tube_.guess(), name == "cold"};
    };
    auto [p, point] = solve(subject, temperatures(), sizing_for(effort_));
    const AccuracyGoal goal{allowed_, 1e-3, true};
    while (!point.tank.no_ring &&
           (!agrees(subject, p, point, work) || refined(p, *point.coil, goal, spent_))) {
      auto next = solve(subject, temperatures(), sizing_for(effort_), std::move(p));
      p = std::move(next.first);
      point = std::move(next.second);
    }
    if (point.tank.no_ring) {
      warnings_.push_back(
          fmt::format("state {}: the tank does not oscillate: coil, leads and joints have {:.3g} "
                      "ohm; with this coil and bank it must be less than {:.3g} ohm. A larger gap, "
                      "fewer turns or less capacitance helps.",
                      name, point.tank.no_ring->resistance_ohm, point.tank.no_ring->limit_ohm));
      return;
    }
    p.state.name = name;
    p.state.coil = std::move(*point.coil);
    finish(p, point.tank.shown().frequency, point.tank.shown().coil_current_rms_A, tube_);
    p.state.tank = point.tank;
    states_.push_back(std::move(p.state));
    if (solved_) solved_(states_.back());
  }

  Temperature peak_demand(Temperature low, Temperature high) {
    const Stopwatch watch(spent_.solve);
    DemandCurve demand(subject_, circuit_, start_);
    const PeakDemand peak = find_peak_demand(subject_, demand, low, high);
    start_ = peak.coil;
    if (found_ != nullptr) {
      found_->emplace();
      for (const auto& sample : demand.samples()) {
        (*found_)->temperatures.push_back(sample.at);
        (*found_)->currents.push_back(sample.current);
        (*found_)->frequencies.push_back(sample.frequency.hertz);
      }
    }
    return peak.at;
  }

  const Heater& subject_;
  Effort effort_;
  double allowed_;
  const SystemMaker& maker_;
  Spent& spent_;
  std::vector<std::string>& warnings_;
  std::optional<DemandResult>* found_;
  const std::function<void(const SolvedState&)>& solved_;
  TankCircuit circuit_;
  TubeTemperature tube_;
  LocalCoil start_;
  std::vector<SolvedState> states_;
};

}  // namespace

MeshedSystem system_from_nothing(const Section& section, const Sizing& sizing, const Media& media) {
  MeshedSystem made;
  made.mesh = std::make_unique<Mesh>(generate_mesh(section, sizing));
  made.system = std::make_unique<EddySystem>(*made.mesh, media);
  return made;
}

std::vector<SolvedState> solve_states(const Heater& subject, Effort effort, Spent& spent,
                                      std::vector<std::string>& warnings, const StateMeans& means) {
  const auto fixed = fixed_frequency(subject);
  if (!fixed) return RingingStates(subject, effort, spent, warnings, means).run();
  std::vector<SolvedState> states;
  states.push_back(solve_bench(subject, *fixed, effort, spent, means));
  if (means.solved) means.solved(states.back());
  return states;
}

}  // namespace cw
