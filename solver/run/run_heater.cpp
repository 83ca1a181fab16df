#include "solver/run/run_heater.hpp"

#include <algorithm>
#include <chrono>
#include <set>
#include <span>

#include "solver/limits/cooling_limits.hpp"
#include "solver/limits/limits.hpp"
#include "solver/run/cooling.hpp"
#include "solver/run/heater_limits.hpp"
#include "solver/run/heating_result.hpp"
#include "solver/run/job_verdict.hpp"
#include "solver/run/overheating.hpp"
#include "solver/run/part_events.hpp"
#include "solver/run/parts_of_heater.hpp"
#include "solver/run/stall_sensitivity.hpp"
#include "solver/run/state_result.hpp"
#include "solver/run/stray_field.hpp"
#include "solver/run/warnings.hpp"

namespace cw {

namespace {

using Clock = std::chrono::steady_clock;

double seconds(Clock::time_point from, Clock::time_point to) {
  return std::chrono::duration<double>(to - from).count();
}

void note_sources(const Material& material, std::vector<SourceNote>& notes) {
  for (const Source& s : material.resistivity.sources)
    notes.push_back({material.name + ": resistivity", s.text, s.provenance});
  if (material.magnetisation) {
    const Source& s = material.magnetisation->saturation.source;
    notes.push_back({material.name + ": magnetisation", s.text, s.provenance});
  }
}

std::vector<SourceNote> sources_of(const Heater& subject) {
  std::vector<SourceNote> notes;
  std::set<std::string> seen;
  const auto once = [&](const Material& m) {
    if (seen.insert(m.name).second) note_sources(m, notes);
  };
  if (subject.workpiece) once(subject.workpiece->material);
  for (const Body& body : subject.bodies) once(body.material);
  once(subject.coil.conductor.material);
  return notes;
}

/// The state at the workpiece's own temperature, from which the heating starts; null if the tank
/// will not ring.
const SolvedState* start_of(const std::vector<SolvedState>& states) {
  for (const SolvedState& s : states)
    if (s.name == "cold" || s.name == "fixed_frequency") return &s;
  return nullptr;
}

void add_stall_sensitivity(Effort effort, const HeatingRest& rest, const SolvedState& cold,
                           Run& run) {
  const StallSensitivity moved = stall_sensitivity(*run.heating, rest, effort, cold);
  run.result.heat->stall_by_emissivity = moved.by_emissivity;
  run.result.heat->stall_by_gap = moved.by_gap;
}

void add_heating(const Heater& subject, const HeaterRunOptions& options, Run& run) {
  const SolvedState* cold = start_of(run.states);
  if (cold == nullptr) return;
  run.heating = std::make_unique<HeatingSetup>(subject, options.effort, *cold);
  run.heating->plan().stop = options.stop;
  std::shared_ptr<void> guard = options.while_heating ? options.while_heating() : nullptr;
  const double until = run.heating->plan().until;
  run.heating->plan().until = std::min(until, options.give_up.value_or(until));
  HeatingOutcome outcome = run.heating->run(options.from);
  if (outcome.end == HeatingEnd::time && run.heating->plan().until < until)
    outcome.end = HeatingEnd::interrupted;
  run.heating->plan().until = until;
  guard.reset();
  run.heating->plan().stop = {};
  run.interrupted = outcome.end == HeatingEnd::interrupted;
  std::optional<HeatingRest> rest;
  if (!run.interrupted && outcome.end != HeatingEnd::supply_stopped)
    rest =
        run.heating->rest(outcome.state, subject.heat->target && outcome.end != HeatingEnd::target);
  run.result.heat = heat_result(*run.heating, outcome, rest);
  HeatResult& heat = *run.result.heat;
  if (const auto allowed = hottest_allowed(subject, heat);
      allowed && heat.reached && heat.target_depth && heat.hardening &&
      heat.lines.back().hottest < allowed->kelvin)
    heat.hardening->too_hot = too_hot_after(*run.heating, outcome.state, *allowed);
  if (options.further && rest) add_stall_sensitivity(options.effort, *rest, *cold, run);
  add_part_events(part_events(subject, *cold, outcome.state.moments), *run.result.heat);
  run.snapshots = std::move(outcome.state.snapshots);
}

Run states_of(const Heater& subject, const HeaterRunOptions& options) {
  const auto begin = Clock::now();
  Run run;
  Spent spent;
  StateMeans means{options.maker, &run.result.demand};
  if (options.state_solved)
    means.solved = [&, known = std::vector<StateResult>()](const SolvedState& state) mutable {
      known.push_back(state_result(subject, state));
      options.state_solved(known);
    };
  run.states = solve_states(subject, options.effort, spent, run.result.warnings, means);
  run.result.timing = {spent.mesh, spent.solve, seconds(begin, Clock::now())};
  return run;
}

/// Shows the states, judged as if nothing followed.
void show_states(const Heater& subject, const HeaterRunOptions& options, Run& run) {
  if (!options.states_solved) return;
  const Result noted = run.result;
  complete_run(subject, run);
  options.states_solved(run);
  run.result = noted;
}

/// Whether the heating run reaches a state. A heater that stops before it is not judged by that
/// state.
bool is_met(const SolvedState& state, const std::optional<HeatResult>& heat) {
  if (!heat || heat->lines.empty()) return true;
  if (state.name == "at_target") return heat->reached;
  if (state.name != "peak_demand" && state.name != "past_curie") return true;
  // Anywhere on the workpiece, not only within the heated stretch.
  const auto hottest = [](const HeatLine& line) {
    return line.bodies.empty() ? line.hottest : std::max(line.hottest, line.bodies[0].hottest);
  };
  return state.temperature.work.kelvin <=
         hottest(*std::ranges::max_element(heat->lines, {}, hottest));
}

}  // namespace

Run run_heater(const Heater& subject, const HeaterRunOptions& options) {
  const auto begin = Clock::now();
  Run run = states_of(subject, options);
  show_states(subject, options, run);
  const auto cold = Clock::now();
  if (subject.heat && subject.workpiece) add_heating(subject, options, run);
  complete_run(subject, run);
  Result& result = run.result;
  if (result.heat) {
    warn_of_heating(*result.heat, result.warnings);
    if (result.parts) add_heat_to_mains(subject, *result.heat, *result.parts);
    merge_limits(result.limits, overheating(subject, *result.heat));
    if (const DcSupply* supply = supply_of(subject.drive))
      add_heating_demand(*result.heat, supply->limit_kind, result.limits);
    if (result.heat->target) result.verdict = job_verdict(result);
  }
  if (options.advise && !run.interrupted) {
    std::shared_ptr<void> guard = options.while_heating ? options.while_heating() : nullptr;
    result.remedies = find_remedies(subject, result, options.remedies);
  }
  const auto end = Clock::now();
  result.timing.solve += seconds(cold, end);
  result.timing.total = seconds(begin, end);
  return run;
}

Run run_states(const Heater& subject, Effort effort, const SystemMaker& maker) {
  const auto begin = Clock::now();
  HeaterRunOptions options{effort};
  options.maker = maker;
  Run run = states_of(subject, options);
  complete_run(subject, run);
  run.result.timing.total = seconds(begin, Clock::now());
  return run;
}

void complete_run(const Heater& subject, Run& run) {
  Result& result = run.result;
  std::ranges::stable_partition(
      run.states, [&](const SolvedState& state) { return is_met(state, result.heat); });
  for (const SolvedState& state : run.states) {
    result.states.push_back(state_result(subject, state));
    result.states.back().met = is_met(state, result.heat);
  }
  const auto count = static_cast<std::size_t>(
      std::ranges::count_if(result.states, [](const StateResult& s) { return s.met; }));
  const std::span met(run.states.data(), count);
  result.limits = heater_limits(subject, met);
  result.cooling = heater_cooling(subject, met, std::span(result.states.data(), count));
  if (result.cooling) merge_limits(result.limits, cooling_limits(*result.cooling));
  result.exposure = heater_exposure(subject, met);
  result.parts = heater_parts(subject, met);
  if (result.parts) add_part_limits(subject, *result.parts, result.limits);
  for (const SolvedState& state : met) warn_of_accuracy(state, result.warnings);
  warn_of_states(subject, result.states, result.warnings);
  result.heater = subject;
  result.sources = sources_of(subject);
}

}  // namespace cw
