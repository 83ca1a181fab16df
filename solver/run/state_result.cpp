#include "solver/run/state_result.hpp"

#include <algorithm>
#include <cmath>

#include "solver/field/surface_field.hpp"
#include "solver/heater/rings.hpp"
#include "solver/run/body_values.hpp"

namespace cw {

namespace {

PowerBalance power_balance(const Heater& subject, const SolvedState& state) {
  PowerBalance power;
  double square = state.current * state.current;
  if (state.tank) {
    const TankPoint& point = state.tank->shown();
    // The coil's share as the circuit computes it, so that all parts add up to the power of the
    // supply. The field that was solved at this point differs from it by the tolerance of the
    // operating point.
    square = point.power.coil_W / (state.coil.resistance - state.coil.leads.resistance_ohm);
    power.joints = point.power.joints_W;
    power.capacitors = point.power.capacitors_W;
    power.switches = point.power.switches_W;
    power.chokes = point.power.chokes_W;
    const DcSupply& supply = *supply_of(subject.drive);
    if (supply.cable) power.cable = point.power.cable_W;
    if (supply.battery_resistance) power.battery = point.power.battery_W;
  }
  if (tank_use(subject.drive) == TankUse::in_series) {
    power.joints = square * subject.tank->joints.resistance;
    power.capacitors = square * bank_impedance(*subject.tank, state.frequency).real();
  }
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
  if (subject.workpiece && state.name != "empty" && !power.workpiece) power.workpiece = 0.0;
  power.coil = square * state.coil.conductor_resistance;
  power.leads =
      state.tank ? state.tank->shown().power.leads_W : square * state.coil.leads.resistance_ohm;
  power.total = power.sum();
  return power;
}

/// The power in a cup is useful, because it heats the charge; the workpiece always counts.
double useful_power(const Heater& subject, const PowerBalance& power) {
  double useful = power.workpiece.value_or(0.0);
  for (const Body& body : subject.bodies) {
    const auto found = power.bodies.find(body.name);
    if (body.useful && found != power.bodies.end()) useful += found->second;
  }
  return useful;
}

Accuracy accuracy_of(const Heater& subject, const SolvedState& state) {
  const ErrorEstimate& error = state.error;
  Accuracy a;
  const RegionId work = state.mesh->find_region("workpiece");
  const double more = state.sensitivity * error.from_drive(true);
  if (work > 0 && state.model.media[work].conductivity > 0)
    a.workpiece_power = error.power[work] + more;
  for (const Body& body : subject.bodies) {
    const RegionId region = state.mesh->find_region(body.name);
    if (region > 0 && error.share[region] >= AccuracyGoal{}.least_share)
      a.bodies_power[body.name] = error.power[region] + more;
  }
  a.coil_power = error.coil_loss + more;
  a.inductance = error.inductance;
  a.unknowns = state.unknowns;
  a.method =
      "residual in third-order functions, weighted for each quantity; error of the mesh only";
  if (state.coil.saturated) {
    a.nonlinear_iterations = state.coil.saturated->report.steps;
    a.method += "; with the permeability found at every point";
  }
  return a;
}

/// Skin depth and permeability of the workpiece at a point of its surface.
class SurfaceMetal {
 public:
  SurfaceMetal(const SaturatingRegion& body, const Medium& medium, Frequency f)
      : body_(body), medium_(medium), f_(f) {}

  [[nodiscard]] double permeability(const SurfacePoint& p) const {
    const LocalMedium here = at(p);
    return saturates(here) ? body_.law->relative_permeability(p.field_rms, here.magnetisation)
                           : 1 / (mu0 * medium_.reluctivity);
  }
  [[nodiscard]] double skin(const SurfacePoint& p) const {
    const LocalMedium here = at(p);
    return saturates(here) ? saturated_skin_depth(*body_.law, here.magnetisation, here.conductivity,
                                                  f_, p.field_rms)
                           : skin_depth(here.conductivity, permeability(p), f_);
  }

 private:
  [[nodiscard]] LocalMedium at(const SurfacePoint& p) const {
    return medium_at(body_, medium_, {0, 0.0, 0.0, p.at});
  }
  [[nodiscard]] bool saturates(const LocalMedium& here) const {
    return body_.law != nullptr && here.magnetisation > 0;
  }

  const SaturatingRegion& body_;
  const Medium& medium_;
  Frequency f_;
};

/// Skin depth of the workpiece: from its medium, or, if it saturates or its temperature varies,
/// from the field along its surface.
void add_skin_depth(const SolvedState& state, RegionId work, StateResult& r) {
  const Medium& medium = state.model.media[work];
  if (medium.conductivity <= 0) return;
  const auto body = std::find_if(state.model.saturating.begin(), state.model.saturating.end(),
                                 [&](const SaturatingRegion& s) { return s.region == work; });
  if (body == state.model.saturating.end()) {
    r.skin_depth = skin_depth(medium.conductivity, 1 / (mu0 * medium.reluctivity), r.frequency);
    return;
  }
  const SurfaceMetal metal(*body, medium, r.frequency);
  const auto surface = surface_fields(*state.mesh, state.field, work);
  const auto strongest = std::max_element(
      surface.begin(), surface.end(),
      [](const SurfacePoint& a, const SurfacePoint& b) { return a.field_rms < b.field_rms; });
  r.skin_depth = metal.skin(*strongest);
  if (body->law == nullptr) return;
  Saturation s;
  s.relative_permeability = metal.permeability(*strongest);
  s.least_skin_depth = s.largest_skin_depth = *r.skin_depth;
  for (const SurfacePoint& p : surface) {
    if (p.field_rms < 0.1 * *r.surface_field_rms) continue;  // hardly heated here
    s.least_skin_depth = std::min(s.least_skin_depth, metal.skin(p));
    s.largest_skin_depth = std::max(s.largest_skin_depth, metal.skin(p));
  }
  const double loss = r.power.workpiece.value_or(0);
  if (loss > 0)
    s.share_in_first_skin_depth =
        std::min(1.0, loss_within(*state.mesh, state.field, work, *r.skin_depth) / loss);
  r.saturation = s;
}

/// Coil and bank in series carry one current.
void add_series_tank(const Tank& bank, const SolvedState& state, StateResult& r) {
  TankResult tank;
  tank.voltage_rms = state.current * std::abs(bank_impedance(bank, state.frequency));
  tank.voltage_peak = std::sqrt(2.0) * tank.voltage_rms;
  tank.current_rms = tank.capacitor_current_rms = state.current;
  tank.reactive_power = tank.voltage_rms * state.current;
  tank.loaded_q = tank.reactive_power / r.power.total;
  r.tank = tank;
}

/// The circuit of a state whose tank rings.
void add_circuit(const SolvedState& state, StateResult& r) {
  const TankPoint& point = state.tank->shown();
  TankResult tank;
  tank.voltage_rms = point.voltage_rms_V;
  tank.voltage_peak = point.voltage_peak_V;
  tank.current_rms = point.coil_current_rms_A;
  tank.capacitor_current_rms = point.capacitor_current_rms_A;
  tank.reactive_power = point.reactive_power_var;
  tank.loaded_q = point.loaded_q;
  r.tank = tank;
  SupplyResult supply;
  supply.voltage = state.tank->running.supply_voltage_V;
  supply.current = state.tank->running.supply_current_A;
  supply.demand = state.tank->demand.supply_current_A;
  supply.power = state.tank->running.power.total_W;
  supply.limited = state.tank->action != SupplyAction::within_limit;
  r.supply = supply;
}

}  // namespace

CoilResult coil_result(const Heater& subject, const LoadedCoil& coil, double current) {
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

StateResult state_result(const Heater& subject, const SolvedState& state) {
  StateResult r;
  r.name = state.name;
  r.frequency = state.frequency;
  r.coil = coil_result(subject, state.coil, state.current);
  r.coil.temperature = state.temperature.coil;
  r.drive = {std::string(kind_of(subject.drive)), state.frequency.hertz, state.current,
             state.current * std::abs(state.coil.impedance())};
  r.power = power_balance(subject, state);
  r.energy = state.current * state.current * state.coil.energy;
  r.accuracy = accuracy_of(subject, state);
  if (state.tank) add_circuit(state, r);
  if (tank_use(subject.drive) == TankUse::in_series) add_series_tank(*subject.tank, state, r);
  const RegionId work = state.mesh->find_region("workpiece");
  if (work > 0) {
    r.workpiece_temperature = state.temperature.work;
    r.efficiency = useful_power(subject, r.power) / r.power.total;
    r.surface_field_rms = largest_surface_field(*state.mesh, state.field, work);
    add_skin_depth(state, work, r);
  }
  return r;
}

}  // namespace cw
