#include "cases/run/run_case.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <set>

#include "cases/run/build_info.hpp"
#include "cases/run/case_limits.hpp"
#include "cases/run/state_result.hpp"
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

/// States with the same trouble say it once, by name.
void add_warnings(const Case& subject, const std::vector<StateResult>& states,
                  std::vector<std::string>& warnings) {
  std::set<std::string> said(warnings.begin(), warnings.end());
  for (const StateResult& state : states) {
    std::vector<std::string> own;
    warn_of_saturation(subject, state, own);
    if (subject.workpiece && state.workpiece_temperature) {
      warn_of_range(subject.workpiece->material, *state.workpiece_temperature, own);
      for (const Body& body : subject.bodies)
        warn_of_range(body.material, body.temperature.value_or(*state.workpiece_temperature), own);
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

}  // namespace

Run run_case(const Case& subject, Effort effort, const Mesher& mesher) {
  const auto begin = std::chrono::steady_clock::now();
  Run run;
  Spent spent;
  run.states = solve_states(subject, effort, spent, run.result.warnings, mesher);
  for (const SolvedState& state : run.states)
    run.result.states.push_back(state_result(subject, state));
  run.result.limits = case_limits(subject, run.states);
  add_warnings(subject, run.result.states, run.result.warnings);
  run.result.title = subject.title;
  run.result.case_sha256 = subject.sha256;
  run.result.build = build_info();
  run.result.sources = sources_of(subject);
  run.result.timing = {
      spent.mesh, spent.solve,
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count()};
  return run;
}

}  // namespace cw::cases
