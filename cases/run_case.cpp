#include "cases/run_case.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <set>

#include "cases/build_info.hpp"
#include "cases/read_case.hpp"
#include "cases/winding.hpp"
#include "mesh/generate.hpp"
#include "postproc/body_values.hpp"
#include "postproc/write_files.hpp"
#include "solver/field/error_estimate.hpp"

namespace cw::cases {

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

/// Frequency and current that a bench drive asks for; the current of a voltage drive follows from
/// the coil.
struct BenchDrive {
  std::string kind;
  Frequency frequency;
  double rms;
};

BenchDrive bench_drive(const Case& subject) {
  if (const auto* current = std::get_if<CurrentDrive>(&subject.drive))
    return {"current", current->frequency, current->rms};
  if (const auto* voltage = std::get_if<VoltageDrive>(&subject.drive))
    return {"voltage", voltage->frequency, voltage->rms};
  const TextPlace place = subject.where.of("drive.kind");
  throw CaseError(
      {fmt::format("{}:{}:{}: drive.kind: found \"push-pull\"; this version solves the drives "
                   "\"current\" and \"voltage\" at a given "
                   "frequency; write kind = \"current\", frequency = \"110 kHz\", rms = \"100 A\" "
                   "to see what that current does",
                   subject.file.string(), place.line, place.column)});
}

SolvedState solve_fixed(const Case& subject, const BenchDrive& drive, Effort effort,
                        Timing& timing) {
  const Temperature work =
      subject.workpiece ? subject.workpiece->temperature : Temperature::celsius(20.0);
  SolvedState state;
  state.name = "fixed_frequency";
  state.model = field_model(subject, {work, coil_temperature(subject.coil)}, drive.frequency);
  const auto begin = Clock::now();
  state.mesh = std::make_unique<Mesh>(generate_mesh(state.model.section, sizing_for(effort)));
  timing.mesh += seconds_since(begin);
  return state;
}

CoilResult coil_result(const Case& subject, const LoadedCoil& coil, double current) {
  CoilResult r;
  r.inductance = coil.inductance;
  r.resistance = coil.resistance;
  r.conductor_resistance = coil.conductor_resistance;
  r.reflected_resistance = coil.reflected_resistance;
  r.part_turn_resistance = coil.part_turn_resistance;
  r.winding_inductance = coil.winding_inductance;
  r.helix_correction = coil.helix_correction;
  r.lead_inductance = coil.leads.inductance_H;
  r.lead_resistance = coil.leads.resistance_ohm;
  r.dc_resistance = coil.dc_resistance;
  r.winding_turns = subject.coil.turns;
  const auto places = ring_places(subject.coil);
  double low = places.front().z, high = low;
  for (std::size_t k = 0; k < places.size(); ++k) {
    r.mean_radius += places[k].r / static_cast<double>(places.size());
    low = std::min(low, places[k].z);
    high = std::max(high, places[k].z);
    r.turns.push_back({places[k].r, places[k].z, places[k].weight,
                       current * std::abs(coil.turn_voltage[k]), current * places[k].weight,
                       current * current * coil.turn_loss[k]});
  }
  r.length = high - low + subject.coil.conductor.axial_size();
  return r;
}

PowerBalance power_balance(const Case& subject, const SolvedState& state, double current) {
  const double square = current * current;
  PowerBalance power;
  for (std::size_t i = 0; i < state.model.section.regions.size(); ++i) {
    const auto& region = state.model.section.regions[i];
    const auto id = static_cast<RegionId>(i) + 1;
    if (region.name.starts_with("turn.") || state.model.media[id].conductivity <= 0) continue;
    const double loss = square * state.coil.region_loss[id];
    if (region.name == "workpiece")
      power.workpiece = loss;
    else
      power.bodies[region.name] = loss;
    power.density[region.name] = power_density(*state.mesh, state.field, id);
  }
  if (subject.workpiece && !power.workpiece) power.workpiece = 0.0;
  power.coil = square * state.coil.conductor_resistance;
  power.leads = square * state.coil.leads.resistance_ohm;
  power.total = power.sum();
  return power;
}

double useful_power(const Case& subject, const PowerBalance& power) {
  double useful = 0;
  bool named = false;
  for (const Body& body : subject.bodies)
    if (body.useful) {
      named = true;
      const auto found = power.bodies.find(body.name);
      if (found != power.bodies.end()) useful += found->second;
    }
  return named ? useful : power.workpiece.value_or(0.0);
}

Accuracy accuracy_of(const SolvedState& state, const EddySystem& system) {
  const ErrorEstimate error =
      estimate_error(system, state.model.winding.turns, state.coil.response, state.coil.series);
  Accuracy a;
  const RegionId work = state.mesh->find_region("workpiece");
  if (work > 0 && state.model.media[work].conductivity > 0) a.workpiece_power = error.power[work];
  if (!state.model.winding.strands) a.coil_power = error.coil_loss;
  a.inductance = error.inductance;
  a.unknowns = system.unknowns();
  a.method = "residual in third-order functions, weighted for each quantity; error of the mesh only";
  return a;
}

StateResult state_result(const Case& subject, const SolvedState& state, const BenchDrive& drive,
                         double current) {
  StateResult r;
  r.name = state.name;
  r.frequency = drive.frequency;
  r.coil = coil_result(subject, state.coil, current);
  r.drive = {drive.kind, drive.frequency.hertz, current,
             current * std::abs(state.coil.impedance())};
  r.power = power_balance(subject, state, current);
  r.energy = current * current * state.coil.energy;
  if (subject.workpiece) {
    r.workpiece_temperature = subject.workpiece->temperature;
    const RegionId work = state.mesh->find_region("workpiece");
    r.efficiency = useful_power(subject, r.power) / r.power.total;
    if (std::isfinite(state.model.section.regions[work - 1].skin_depth))
      r.skin_depth = state.model.section.regions[work - 1].skin_depth;
    r.surface_field_rms = largest_surface_field(*state.mesh, state.field, work);
  }
  return r;
}

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

/// The linear model takes the permeability of weak fields: say where the field is not weak.
void warn_of_saturation(const Case& subject, const StateResult& state,
                        std::vector<std::string>& warnings) {
  if (!subject.workpiece || !subject.workpiece->material.magnetisation || !state.surface_field_rms)
    return;
  const auto& m = *subject.workpiece->material.magnetisation;
  if (subject.workpiece->temperature >= m.curie) return;
  const double peak = std::sqrt(2.0) * *state.surface_field_rms;
  if (peak < 0.3 * m.half_field.value) return;
  warnings.push_back(
      fmt::format("{} saturates: the field at its surface would be {:.3g} kA/m peak, and {:.3g} "
                  "kA/m already halves its "
                  "permeability. This state is linear, with the permeability of weak fields: power "
                  "in the workpiece and "
                  "inductance come out too high, skin depth too small.",
                  subject.workpiece->material.name, peak / 1e3, m.half_field.value / 1e3));
}

}  // namespace

Run run_case(const Case& subject, Effort effort) {
  const auto begin = Clock::now();
  const BenchDrive drive = bench_drive(subject);
  Run run;
  Timing timing;
  SolvedState state = solve_fixed(subject, drive, effort, timing);
  const auto solving = Clock::now();
  EddySystem system(*state.mesh, state.model.media);
  state.coil = solve_loaded_coil(system, state.model.winding, drive.frequency);
  const double current =
      drive.kind == "current" ? drive.rms : drive.rms / std::abs(state.coil.impedance());
  state.field = scaled(state.coil.series.field, current);
  StateResult result = state_result(subject, state, drive, current);
  result.accuracy = accuracy_of(state, system);
  timing.solve = seconds_since(solving);

  run.result.title = subject.title;
  run.result.case_sha256 = subject.sha256;
  run.result.build = build_info();
  warn_of_saturation(subject, result, run.result.warnings);
  run.result.sources = sources_of(subject);
  run.result.states.push_back(std::move(result));
  run.states.push_back(std::move(state));
  timing.total = seconds_since(begin);
  run.result.timing = timing;
  return run;
}

}  // namespace cw::cases
