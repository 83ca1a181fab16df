#include "solver/run/heating_result.hpp"

#include <algorithm>

#include "mesh/planar/outline.hpp"
#include "solver/heater/target.hpp"
#include "solver/run/body_heats.hpp"
#include "solver/run/heat_readings.hpp"
#include "solver/run/thermometer.hpp"

namespace cw {

namespace {

const char* word(HeatingEnd end) {
  switch (end) {
    case HeatingEnd::target:
      return "target";
    case HeatingEnd::time:
      return "time";
    case HeatingEnd::stalled:
      return "stall";
    case HeatingEnd::supply_stopped:
      return "supply";
    case HeatingEnd::interrupted:
      break;
  }
  return "interrupted";
}

double work_emissivity(const Heater& subject) {
  return subject.heat->emissivity.value_or(subject.workpiece->material.emissivity.value);
}

double shown(const HeatingSetup& setup, double kelvin) {
  const Heat& heat = *setup.subject().heat;
  return thermometer_reading({work_emissivity(setup.subject()), {kelvin}, heat.surroundings},
                             *heat.thermometer)
      .kelvin;
}

HeatLine line_of(const HeatingSetup& setup, const HeatingMoment& m) {
  HeatLine line;
  line.time = m.time;
  line.surface = m.surface;
  line.centre = m.centre;
  line.coldest = m.coldest;
  line.mean = m.mean;
  line.hottest = m.hottest;
  line.frequency = m.frequency;
  line.tank_current = m.coil_current;
  if (tank_rings(setup.subject().drive)) {
    line.supply_current = m.supply_current;
    line.demand = m.demand;
    line.loaded_q = m.loaded_q;
  }
  line.work_W = m.induced_W;
  line.coil_W = m.coil_W;
  line.lost_W = m.lost_W;
  line.total_W = m.total_W;
  if (setup.subject().heat->thermometer) line.thermometer = shown(setup, m.surface);
  return line;
}

/// Whether a body that is magnetic at first exceeds its Curie point anywhere.
bool loses_magnetism(const HeatingState& state) {
  return std::ranges::any_of(state.events, [&](const HeatingEvent& event) {
    return event.name.ends_with(first_past_curie);
  });
}

/// Error that no estimate on one mesh shows: that of the boundary of the magnetic part, as it moves
/// through the triangles (reluctivity_in). It is proportional to the length of their edges in the
/// body over half its thickness. The factor is twice the difference of a rod from finite
/// differences (CoupledRod, tests/published) and of a chisel from itself on other meshes
/// (TimeToTarget, tests/cases).
double front_error(const HeatingSetup& setup) {
  constexpr double over_edge = 0.03;
  double error = 0.0;
  for (const SaturatingRegion& body : setup.field().saturating) {
    const SectionRegion& region = setup.field().section.regions[body.region - 1];
    const double half = half_thickness(std::get<Polygon>(region.shape).outline);
    error = std::max(error, over_edge * region.largest_edge / half);
  }
  return error;
}

/// Time above a temperature, linear between moments [s].
double seconds_above(const std::vector<HeatLine>& lines, double kelvin) {
  double sum = 0.0;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    const double a = lines[i - 1].hottest - kelvin, b = lines[i].hottest - kelvin;
    const double length = lines[i].time - lines[i - 1].time;
    if (a >= 0 && b >= 0)
      sum += length;
    else if (a >= 0 || b >= 0)
      sum += length * std::max(a, b) / (std::max(a, b) - std::min(a, b));
  }
  return sum;
}

/// Time at which the coldest place of the stretch exceeds a temperature [s].
std::optional<double> through_at(const std::vector<HeatLine>& lines, double kelvin) {
  for (std::size_t i = 1; i < lines.size(); ++i)
    if (lines[i].coldest >= kelvin && lines[i - 1].coldest < kelvin)
      return lines[i - 1].time + (lines[i].time - lines[i - 1].time) *
                                     (kelvin - lines[i - 1].coldest) /
                                     (lines[i].coldest - lines[i - 1].coldest);
  return std::nullopt;
}

void add_energies(const HeatingSetup& setup, const HeatingState& state, HeatResult& r) {
  const ThermalModel& model = setup.thermal();
  const HeatedField& field = setup.heated_field();
  const std::vector<std::string> names = part_names(field);
  for (std::size_t i = 0; i < state.energy.size(); ++i) {
    if (state.energy[i] != 0.0) r.spent[names[i]] = state.energy[i];
    r.energy += state.energy[i];
    if (i < field.bodies.size()) r.induced += state.energy[i];
  }
  double lost = 0.0;
  for (std::size_t i = 0; i < model.routes().size(); ++i) {
    const double joule = state.thermal.by_route[static_cast<Eigen::Index>(i)];
    r.lost[model.routes()[i].name] = joule;
    if (model.routes()[i].leaves) lost += joule;
  }
  for (const Route& route : model.routes())
    if (!route.leaves) r.lost.erase(route.name);
  r.stored = model.stored(state.thermal.enthalpy) - state.thermal.at_start;
  if (r.induced > 0) {
    r.ledger_error = (r.induced - r.stored - lost) / r.induced;
    r.interpolation_error = state.interpolation_error / r.induced;
    if (state.judged > 0) r.mesh_error = state.mesh_error / state.judged;
    if (loses_magnetism(state)) r.mesh_error += front_error(setup);
  }
}

/// Bodies and joints, from the readings that follow those of the workpiece.
void add_bodies(const HeatingSetup& setup, const HeatingState& state, HeatResult& r) {
  constexpr std::size_t of_workpiece = 4;
  const BodyHeats heats(setup.thermal());
  std::vector<std::string> names;
  for (const ThermalBody& body : setup.thermal().mesh().body)
    names.push_back(setup.mesh().region_name[body.region]);
  std::vector<std::span<const double>> moments;
  for (std::size_t i = 0; i < r.lines.size() && i < state.readings.size(); ++i) {
    moments.push_back(std::span(state.readings[i]).subspan(of_workpiece));
    r.lines[i].bodies = heats.bodies(moments.back());
  }
  if (moments.empty()) return;
  for (std::size_t b = 0; b < names.size(); ++b)
    r.bodies.push_back({names[b], r.lines[moments.size() - 1].bodies[b]});
  r.joints = heats.joints(moments, names);
}

void add_views(const HeatingSetup& setup, const HeatingState& state, HeatResult& r) {
  const auto austenite = austenite_of(setup.subject());
  for (std::size_t i = 0; i < r.lines.size() && i < state.readings.size(); ++i) {
    const std::vector<double>& reading = state.readings[i];
    if (austenite) r.lines[i].hardened_depth = reading[0];
    r.lines[i].mass_above = reading[1];
    r.lines[i].spread = reading[2];
    r.lines[i].at_target = reading[3];
  }
  add_bodies(setup, state, r);
  if (austenite && !r.lines.empty())
    r.hardening = HardeningResult{*austenite, through_at(r.lines, austenite->kelvin),
                                  r.lines.back().hardened_depth.value_or(0.0),
                                  seconds_above(r.lines, 900.0 + zero_celsius)};
  if (setup.subject().heat->thermometer && !r.lines.empty())
    r.thermometer = ThermometerResult{*setup.subject().heat->thermometer,
                                      work_emissivity(setup.subject()),
                                      {*r.lines.back().thermometer},
                                      {r.lines.back().surface}};
}

}  // namespace

HeatResult heat_result(const HeatingSetup& setup, const HeatingOutcome& outcome,
                       const std::optional<HeatingRest>& rest) {
  HeatResult r;
  r.reached = outcome.end == HeatingEnd::target;
  r.ended = word(outcome.end);
  take_target(setup.subject(), r);
  for (const HeatingEvent& event : outcome.state.events) {
    r.events.push_back({event.name, event.time});
    if (event.name == "target") r.time_to_target = event.time;
  }
  if (rest) r.stall = Temperature{rest->reading};
  r.field_updates = outcome.state.updates;
  r.view = setup.marks().view;
  for (const HeatingMoment& m : outcome.state.moments) r.lines.push_back(line_of(setup, m));
  add_energies(setup, outcome.state, r);
  add_views(setup, outcome.state, r);
  if (r.target && !r.lines.empty()) r.reading = Temperature{r.lines.back().at_target};
  return r;
}

void add_part_events(const std::vector<HeatingEvent>& events, HeatResult& heat) {
  for (const HeatingEvent& event : events) heat.events.push_back({event.name, event.time});
  std::stable_sort(
      heat.events.begin(), heat.events.end(),
      [](const HeatEventResult& a, const HeatEventResult& b) { return a.time < b.time; });
}

LocalHeat local_heat(const HeatingSetup& setup, const HeatingSnapshot& snapshot) {
  constexpr std::array<std::array<double, 2>, 6> places{
      {{0, 0}, {1, 0}, {0, 1}, {.5, 0}, {.5, .5}, {0, .5}}};
  const Mesh& mesh = setup.mesh();
  const ThermalMesh& thermal = setup.thermal().mesh();
  LocalHeat heat;
  heat.kelvin.resize(mesh.triangles.size());
  heat.power_density.resize(mesh.triangles.size());
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    const RegionId region = mesh.region[t];
    heat.kelvin[t].fill(region == 0 ? setup.subject().heat->surroundings.kelvin
                                    : setup.field().info[region].temperature.kelvin);
    const FieldInTriangle inside(mesh, snapshot.field, t);
    for (std::size_t i = 0; i < 6; ++i)
      heat.power_density[t][i] = inside.at(places[i][0], places[i][1]).power_density;
  }
  const double omega = snapshot.field.frequency.omega();
  for (const auto& e : thermal.elements)
    for (std::size_t i = 0; i < 6; ++i) {
      const double kelvin = snapshot.kelvin[e.unknown[i]];
      heat.kelvin[e.triangle][i] = kelvin;
      const auto& material = thermal.body[e.body].material;
      const auto a = snapshot.field.potential[mesh.triangles[e.triangle][i]];
      heat.power_density[e.triangle][i] =
          material.insulator() ? 0.0
                               : omega * omega * material.conductivity({kelvin}) * std::norm(a);
    }
  return heat;
}

}  // namespace cw
