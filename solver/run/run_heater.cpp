#include "solver/run/run_heater.hpp"

#include <chrono>
#include <set>

#include "solver/limits/cooling_limits.hpp"
#include "solver/limits/limits.hpp"
#include "solver/run/cooling.hpp"
#include "solver/run/gentler_heat.hpp"
#include "solver/run/heater_limits.hpp"
#include "solver/run/heating_result.hpp"
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

/// The state at the workpiece's own temperature, from which the heating starts; null where the tank
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
  HeatingOutcome outcome = run.heating->run(options.from);
  guard.reset();
  run.heating->plan().stop = {};
  run.interrupted = outcome.end == HeatingEnd::interrupted;
  std::optional<HeatingRest> rest;
  if (!run.interrupted && outcome.end != HeatingEnd::supply_stopped)
    rest =
        run.heating->rest(outcome.state, subject.heat->target && outcome.end != HeatingEnd::target);
  run.result.heat = heat_result(*run.heating, outcome, rest);
  if (options.further && rest) add_stall_sensitivity(options.effort, *rest, *cold, run);
  add_part_events(part_events(subject, *cold, outcome.state.moments), *run.result.heat);
  run.snapshots = std::move(outcome.state.snapshots);
}

}  // namespace

Run run_heater(const Heater& subject, const HeaterRunOptions& options) {
  const auto begin = Clock::now();
  Run run = run_states(subject, options.effort, options.maker);
  if (!subject.heat || !subject.workpiece) return run;
  const auto cold = Clock::now();
  add_heating(subject, options, run);
  if (run.result.heat) {
    warn_of_heating(*run.result.heat, run.result.warnings);
    if (run.result.parts) add_heat_to_mains(subject, *run.result.heat, *run.result.parts);
  }
  if (options.further && !run.interrupted) advise_of_time(subject, options.effort, run.result);
  const auto end = Clock::now();
  run.result.timing.solve += seconds(cold, end);
  run.result.timing.total = seconds(begin, end);
  return run;
}

Run run_states(const Heater& subject, Effort effort, const SystemMaker& maker) {
  const auto begin = Clock::now();
  Run run;
  Spent spent;
  run.states =
      solve_states(subject, effort, spent, run.result.warnings, {maker, &run.result.demand});
  complete_run(subject, run);
  run.result.timing = {spent.mesh, spent.solve, seconds(begin, Clock::now())};
  return run;
}

void complete_run(const Heater& subject, Run& run) {
  for (const SolvedState& state : run.states)
    run.result.states.push_back(state_result(subject, state));
  run.result.limits = heater_limits(subject, run.states);
  run.result.cooling = heater_cooling(subject, run.states, run.result.states);
  if (run.result.cooling) merge_limits(run.result.limits, cooling_limits(*run.result.cooling));
  run.result.exposure = heater_exposure(subject, run.states);
  run.result.parts = heater_parts(subject, run.states);
  if (run.result.parts) add_part_limits(subject, *run.result.parts, run.result.limits);
  for (const SolvedState& state : run.states) warn_of_accuracy(state, run.result.warnings);
  warn_of_states(subject, run.result.states, run.result.warnings);
  run.result.heater = subject;
  run.result.sources = sources_of(subject);
}

}  // namespace cw
