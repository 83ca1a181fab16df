#include "cases/run/run_case.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <set>

#include "cases/run/build_info.hpp"
#include "cases/run/case_design.hpp"
#include "cases/run/case_limits.hpp"
#include "cases/run/case_parts_result.hpp"
#include "cases/run/checkpoint.hpp"
#include "cases/run/cooling.hpp"
#include "cases/run/gentler_heat.hpp"
#include "cases/run/heating_result.hpp"
#include "cases/run/part_events.hpp"
#include "cases/run/stall_sensitivity.hpp"
#include "cases/run/state_result.hpp"
#include "cases/run/stop_signal.hpp"
#include "cases/run/stray_field.hpp"
#include "postproc/limits/cooling_limits.hpp"
#include "postproc/limits/limits.hpp"
#include "solver/field/law_validity.hpp"

namespace cw::cases {

namespace {

void note_sources(const Material& material, std::vector<SourceNote>& notes) {
  for (const Source& s : material.resistivity.sources)
    notes.push_back({material.name + ": resistivity", s.text, s.provenance});
  if (material.magnetisation) {
    const Source& s = material.magnetisation->saturation.source;
    notes.push_back({material.name + ": magnetisation", s.text, s.provenance});
  }
}

std::vector<SourceNote> sources_of(const Case& subject) {
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

/// Half the thickness of a plate, the radius of a rod: area over surface, axis left out [m].
double half_thickness(const Outline& outline) {
  double area = 0, surface = 0;
  const auto& p = outline.profile;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Corner a = p[i], b = p[(i + 1) % p.size()];
    area += 0.5 * (a.r * b.z - b.r * a.z);
    if (a.r > 0 || b.r > 0) surface += std::hypot(b.r - a.r, b.z - a.z);
  }
  return surface > 0 ? std::abs(area) / surface : 0.0;
}

/// What one effective permeability cannot say: thin parts, hysteresis, reactance deep in
/// saturation. Figures from a comparison with time stepping (tests/published).
void warn_of_saturation(const Case& subject, const StateResult& state,
                        std::vector<std::string>& warnings) {
  if (!state.saturation || !state.skin_depth) return;
  if (state.saturation->relative_permeability <= 1.0) return;  // too hot there to be magnetic
  const Material& metal = subject.workpiece->material;
  const double initial = metal.initial_permeability(*state.workpiece_temperature);
  const LawValidity law =
      law_validity(half_thickness(subject.workpiece->outline), *state.skin_depth,
                   state.saturation->relative_permeability / initial);
  if (!law.valid)
    warnings.push_back(
        fmt::format("{}: half its thickness is {:.2g} skin depths, too thin for one permeability a "
                    "period: its power may come out "
                    "{:+.0f} to {:+.0f} % off.",
                    metal.name, law.depths, 100 * law.lowest_error, 100 * law.highest_error));
  const double peak = std::sqrt(2.0) * *state.surface_field_rms;
  if (metal.magnetisation_curve && peak > metal.magnetisation_curve->field.back())
    warnings.push_back(fmt::format(
        "{}: its B(H) table ends at {:.3g} kA/m and the field reaches {:.3g} kA/m peak: from the "
        "end of the table on its magnetisation is held.",
        metal.name, metal.magnetisation_curve->field.back() / 1e3, peak / 1e3));
  if (peak > 20e3)
    warnings.push_back(
        fmt::format("{} is deep in saturation ({:.3g} kA/m peak): the reactance it adds comes out "
                    "up to 16 % high.",
                    metal.name, peak / 1e3));
  else
    warnings.push_back(
        fmt::format("{}: loss from hysteresis is left out; at fields like this one ({:.3g} kA/m "
                    "peak) hard steel may take some "
                    "30 % more.",
                    metal.name, peak / 1e3));
}

/// The drive is solved as if the tank rang in a pure sine; at a low loaded Q it does not.
void warn_of_harmonics(const Case& subject, const StateResult& state,
                       std::vector<std::string>& warnings) {
  constexpr double told = 0.01;
  const auto* drive = std::get_if<PushPullDrive>(&subject.drive);
  if (drive == nullptr || !state.tank) return;
  const double coil = state.coil.inductance + subject.tank->joints.inductance;
  const HarmonicError e = harmonic_error(
      state.tank->loaded_q, drive->choke.inductance > 0 ? coil / drive->choke.inductance : 0.0);
  if (std::max({e.frequency, e.voltage_peak, e.supply_current}) < told) return;
  warnings.push_back(fmt::format(
      "at a loaded Q of {:.2g} the tank does not ring in a pure sine: its frequency may lie up to "
      "{:.1f} % lower, its peak voltage up to {:.1f} % and the supply current up to {:.1f} % "
      "higher than stated.",
      state.tank->loaded_q, 100 * e.frequency, 100 * e.voltage_peak, 100 * e.supply_current));
}

/// Properties asked for beyond the temperatures their data cover: held at the nearest end, and
/// said.
void warn_of_range(const Material& metal, Temperature t, std::vector<std::string>& warnings) {
  const auto check = [&](const char* what, const Law& law) {
    if (law.covers(t)) return;
    warnings.push_back(fmt::format(
        "{}: its {} is known from {:.0f} to {:.0f} degC; at {:.0f} degC the value at the "
        "nearest end is used.",
        metal.name, what, law.lowest - zero_celsius, law.highest - zero_celsius, t.in_celsius()));
  };
  if (!metal.insulator()) check("resistivity", metal.resistivity);
}

/// The same for a body: at one temperature, or at every point of its profile.
void warn_of_range(const Material& metal, const TemperatureProfile& profile, Temperature uniform,
                   std::vector<std::string>& warnings) {
  if (profile.empty()) warn_of_range(metal, uniform, warnings);
  for (const TemperaturePoint& p : profile) warn_of_range(metal, p.temperature, warnings);
}

/// States with the same trouble say it once, by name.
void add_warnings(const Case& subject, const std::vector<StateResult>& states,
                  std::vector<std::string>& warnings) {
  std::set<std::string> said(warnings.begin(), warnings.end());
  for (const StateResult& state : states) {
    std::vector<std::string> own;
    warn_of_saturation(subject, state, own);
    warn_of_harmonics(subject, state, own);
    if (subject.workpiece && state.workpiece_temperature) {
      const Temperature work = *state.workpiece_temperature;
      const bool as_given = state.name == "cold" || state.name == "fixed_frequency";
      if (as_given && !subject.workpiece->temperature_profile.empty())
        own.push_back(
            "the temperature stated for the workpiece is that of its outside; below it the given "
            "profile holds.");
      warn_of_range(subject.workpiece->material,
                    as_given ? subject.workpiece->temperature_profile : TemperatureProfile{}, work,
                    own);
      for (const Body& body : subject.bodies)
        warn_of_range(body.material, body.temperature_profile, body.temperature.value_or(work),
                      own);
    }
    if (state.supply && state.supply->limited && state.supply->current == 0)
      own.push_back(fmt::format(
          "the supply stops at {:.3g} A demanded: what stands here is what it would have to give.",
          state.supply->demand));
    for (const std::string& text : own) {
      const std::string line =
          states.size() == 1 ? text : fmt::format("State {}: {}", state.name, text);
      if (said.insert(line).second) warnings.push_back(line);
    }
  }
}

/// What the heating run found that its figures alone do not say.
/// Figures whose accuracy misses what was asked for, and the place that is too hard.
void warn_of_accuracy(const SolvedState& state, std::vector<std::string>& warnings) {
  if (!state.shortfall) return;
  const Shortfall& s = *state.shortfall;
  const auto region = static_cast<std::size_t>(s.region);
  warnings.push_back(fmt::format(
      "state {}: the estimated error of a figure is {:.2g} times the one asked for; most of it "
      "comes from {} near r = {:.4g} mm, z = {:.4g} mm, which {} unknowns do not resolve. The "
      "figures carry their errors.",
      state.name, s.excess, s.region > 0 ? state.mesh->region_name[region] : "the air",
      1e3 * s.at.r, 1e3 * s.at.z, state.unknowns));
}

void add_heat_warnings(Run& run) {
  if (!run.result.heat) return;
  const HeatResult& heat = *run.result.heat;
  std::vector<std::string>& warnings = run.result.warnings;
  if (heat.ended == "interrupted")
    warnings.push_back(fmt::format(
        "Heating run: stopped by the user after {:.3g} s; its figures end there. --resume goes on.",
        heat.lines.back().time));
  if (heat.ended == "supply")
    warnings.push_back(fmt::format(
        "Heating run: the supply stops after {:.3g} s, with the surface at {:.0f} degC.",
        heat.lines.back().time, heat.lines.back().surface - zero_celsius));
  if (heat.interpolation_error > 0.005)
    warnings.push_back(
        fmt::format("Heating run: power between updates of the field may be off by {:.1f} % of the "
                    "energy induced.",
                    100 * heat.interpolation_error));
}

/// The state at the workpiece's own temperature, from which the heating starts; null where the tank
/// will not ring.
const SolvedState* start_of(const std::vector<SolvedState>& states) {
  for (const SolvedState& s : states)
    if (s.name == "cold" || s.name == "fixed_frequency") return &s;
  return nullptr;
}

/// Stores the run from time to time; says when to stop.
class Keeper {
 public:
  Keeper(const Case& subject, const RunOptions& options) : subject_(subject), options_(options) {}

  bool operator()(const HeatingState& state) {
    if (options_.progress) options_.progress(state.moments.back());
    const bool stop = options_.stoppable && StopSignal::raised();
    const auto now = std::chrono::steady_clock::now();
    if (!options_.checkpoint.empty() && (stop || now - last_ > between)) {
      write_checkpoint(options_.checkpoint, subject_, options_.effort, state);
      last_ = now;
    }
    return stop;
  }

 private:
  static constexpr auto between = std::chrono::milliseconds(500);
  const Case& subject_;
  const RunOptions& options_;
  std::chrono::steady_clock::time_point last_{};
};

void add_stall_sensitivity(const RunOptions& options, const HeatingRest& rest,
                           const SolvedState& cold, Run& run) {
  const StallSensitivity moved = stall_sensitivity(*run.heating, rest, options.effort, cold);
  run.result.heat->stall_by_emissivity = moved.by_emissivity;
  run.result.heat->stall_by_gap = moved.by_gap;
}

void add_heating(const Case& subject, const RunOptions& options, Run& run) {
  const SolvedState* cold = start_of(run.states);
  if (cold == nullptr) return;
  std::optional<HeatingState> from;
  if (options.resume) from = read_checkpoint(options.checkpoint, subject, options.effort);
  run.heating = std::make_unique<HeatingSetup>(subject, options.effort, *cold);
  Keeper keeper(subject, options);
  run.heating->plan().stop = [&keeper](const HeatingState& state) { return keeper(state); };
  std::optional<StopSignal> asked;
  if (options.stoppable) asked.emplace();
  HeatingOutcome outcome = run.heating->run(std::move(from));
  asked.reset();
  run.heating->plan().stop = {};
  run.interrupted = outcome.end == HeatingEnd::interrupted;
  std::optional<HeatingRest> rest;
  if (!run.interrupted && outcome.end != HeatingEnd::supply_stopped)
    rest =
        run.heating->rest(outcome.state, subject.heat->target && outcome.end != HeatingEnd::target);
  run.result.heat = heat_result(*run.heating, outcome, rest);
  if (options.further && rest) add_stall_sensitivity(options, *rest, *cold, run);
  add_part_events(part_events(subject, *cold, outcome.state.moments), *run.result.heat);
  run.snapshots = std::move(outcome.state.snapshots);
}

}  // namespace

Run run_case(const Case& subject, const RunOptions& options) {
  const auto begin = std::chrono::steady_clock::now();
  Run run = run_case(subject, options.effort, options.maker);
  if (!subject.heat || !subject.workpiece) return run;
  const auto cold = std::chrono::steady_clock::now();
  add_heating(subject, options, run);
  add_heat_warnings(run);
  if (run.result.heat && run.result.parts)
    add_heat_to_mains(subject, *run.result.heat, *run.result.parts);
  if (options.further && !run.interrupted) advise_of_time(subject, options.effort, run.result);
  const auto end = std::chrono::steady_clock::now();
  run.result.timing.solve += std::chrono::duration<double>(end - cold).count();
  run.result.timing.total = std::chrono::duration<double>(end - begin).count();
  return run;
}

Run run_case(const Case& subject, Effort effort, const SystemMaker& maker) {
  const auto begin = std::chrono::steady_clock::now();
  Run run;
  Spent spent;
  run.states =
      solve_states(subject, effort, spent, run.result.warnings, {maker, &run.result.demand});
  complete_run(subject, run);
  run.result.timing = {
      spent.mesh, spent.solve,
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count()};
  return run;
}

void complete_run(const Case& subject, Run& run) {
  for (const SolvedState& state : run.states)
    run.result.states.push_back(state_result(subject, state));
  run.result.limits = case_limits(subject, run.states);
  run.result.cooling = case_cooling(subject, run.states, run.result.states);
  if (run.result.cooling) merge_limits(run.result.limits, cooling_limits(*run.result.cooling));
  run.result.exposure = case_exposure(subject, run.states);
  run.result.parts = case_parts_result(subject, run.states);
  if (run.result.parts) add_part_limits(subject, *run.result.parts, run.result.limits);
  for (const SolvedState& state : run.states) warn_of_accuracy(state, run.result.warnings);
  add_warnings(subject, run.result.states, run.result.warnings);
  run.result.design = case_design(subject);
  run.result.title = subject.title;
  run.result.case_sha256 = subject.sha256;
  run.result.build = build_info();
  run.result.sources = sources_of(subject);
}

}  // namespace cw::cases
