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
#include "solver/field/surface_field.hpp"

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

/// Current the drive will send, for laying the mesh: exact for a current drive, from the coil in
/// air for a voltage.
double expected_current(const Case& subject, const BenchDrive& drive) {
  if (drive.kind == "current") return drive.rms;
  return drive.rms / (drive.frequency.omega() * rough_inductance(subject.coil));
}

/// The coil with its load at the drive's current. At a given voltage a saturating load is solved
/// again until the current no longer changes by 1e-7: its impedance falls with the current, so this
/// settles.
double solve_at_drive(EddySystem& system, const BenchDrive& drive, double expected,
                      SolvedState& state) {
  const Winding& winding = state.model.winding;
  if (state.model.saturating.empty()) {
    state.coil = solve_loaded_coil(system, winding, drive.frequency);
    return drive.kind == "current" ? drive.rms : drive.rms / std::abs(state.coil.impedance());
  }
  SaturatingLoad load{state.model.saturating, 0.0, nullptr};
  double current = expected;
  std::shared_ptr<const NonlinearCoil> before;
  for (int k = 0; k < 30; ++k) {
    load.start = before.get();
    state.coil = solve_loaded_coil(system, winding, load, drive.frequency, current);
    if (drive.kind == "current") return current;
    const double next = drive.rms / std::abs(state.coil.impedance());
    if (std::abs(next - current) < 1e-7 * next) return current;
    before = state.coil.saturated;
    current = next;
  }
  throw SolveError(
      "the current at the given voltage did not settle in 30 steps; no result is given");
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
  const ErrorEstimate error = estimate_error(system, state.model.winding, state.coil);
  Accuracy a;
  const RegionId work = state.mesh->find_region("workpiece");
  if (work > 0 && state.model.media[work].conductivity > 0) a.workpiece_power = error.power[work];
  if (!state.model.winding.strands) a.coil_power = error.coil_loss;
  a.inductance = error.inductance;
  a.unknowns = system.unknowns();
  a.method =
      "residual in third-order functions, weighted for each quantity; error of the mesh only";
  if (state.coil.saturated) {
    a.nonlinear_iterations = state.coil.saturated->report.steps;
    a.method += "; of the linear field that stands for the saturated one";
  }
  return a;
}

/// Skin depth of the workpiece: of its medium, or, where it saturates, by the field along its
/// surface.
void add_skin_depth(const SolvedState& state, RegionId work, StateResult& r) {
  const Medium& medium = state.model.media[work];
  if (medium.conductivity <= 0) return;
  const auto body = std::find_if(state.model.saturating.begin(), state.model.saturating.end(),
                                 [&](const SaturatingRegion& s) { return s.region == work; });
  if (body == state.model.saturating.end()) {
    r.skin_depth = skin_depth(medium.conductivity, 1 / (mu0 * medium.reluctivity), r.frequency);
    return;
  }
  const auto depth_at = [&](double field) {
    return saturated_skin_depth(*body->law, body->magnetisation, medium.conductivity, r.frequency,
                                field);
  };
  Saturation s;
  s.relative_permeability =
      body->law->relative_permeability(*r.surface_field_rms, body->magnetisation);
  r.skin_depth = depth_at(*r.surface_field_rms);
  s.least_skin_depth = s.largest_skin_depth = *r.skin_depth;
  for (const SurfacePoint& p : surface_fields(*state.mesh, state.field, work)) {
    if (p.field_rms < 0.1 * *r.surface_field_rms) continue;  // hardly heated
    s.least_skin_depth = std::min(s.least_skin_depth, depth_at(p.field_rms));
    s.largest_skin_depth = std::max(s.largest_skin_depth, depth_at(p.field_rms));
  }
  const double loss = r.power.workpiece.value_or(0);
  if (loss > 0)
    s.share_in_first_skin_depth =
        std::min(1.0, loss_within(*state.mesh, state.field, work, *r.skin_depth) / loss);
  r.saturation = s;
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
    r.surface_field_rms = largest_surface_field(*state.mesh, state.field, work);
    add_skin_depth(state, work, r);
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
/// saturation. Figures from a comparison with time stepping of a steel face and a 10 mm bar.
void warn_of_saturation(const Case& subject, const StateResult& state,
                        std::vector<std::string>& warnings) {
  if (!state.saturation || !state.skin_depth) return;
  const double ratio = half_thickness(subject.workpiece->outline) / *state.skin_depth;
  if (ratio < 1.5)
    warnings.push_back(
        fmt::format("{}: half its thickness is {:.2f} skin depths; below 1.5 the permeability of a "
                    "period fails: power some 2 % "
                    "high at 1.3, 23 % low at 0.9, unknown beyond.",
                    subject.workpiece->material.name, ratio));
  const double peak = std::sqrt(2.0) * *state.surface_field_rms;
  if (peak > 20e3)
    warnings.push_back(
        fmt::format("{} is deep in saturation ({:.3g} kA/m peak): the reactance it adds comes out "
                    "up to 14 % high, its power "
                    "within a few percent of its magnetisation curve.",
                    subject.workpiece->material.name, peak / 1e3));
  else
    warnings.push_back(
        fmt::format("{}: loss from hysteresis is left out; at fields like this one ({:.3g} kA/m "
                    "peak) hard steel may take some "
                    "30 % more.",
                    subject.workpiece->material.name, peak / 1e3));
}

}  // namespace

Run run_case(const Case& subject, Effort effort) {
  const auto begin = Clock::now();
  const BenchDrive drive = bench_drive(subject);
  const double expected = expected_current(subject, drive);
  Run run;
  Timing timing;
  SolvedState state;
  state.name = "fixed_frequency";
  const Temperature work =
      subject.workpiece ? subject.workpiece->temperature : Temperature::celsius(20.0);
  state.model =
      field_model(subject, {work, coil_temperature(subject.coil)}, {drive.frequency, expected});
  state.mesh = std::make_unique<Mesh>(generate_mesh(state.model.section, sizing_for(effort)));
  timing.mesh = seconds_since(begin);
  const auto solving = Clock::now();
  EddySystem system(*state.mesh, state.model.media);
  const double current = solve_at_drive(system, drive, expected, state);
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
