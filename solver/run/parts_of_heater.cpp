#include "solver/run/parts_of_heater.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "solver/circuit/breakdown.hpp"
#include "solver/circuit/flat_conductor.hpp"
#include "solver/circuit/nearby_steel.hpp"
#include "solver/circuit/ring_core_choke.hpp"
#include "solver/heater/rings.hpp"
#include "solver/limits/limits.hpp"
#include "solver/run/coil_tube.hpp"
#include "solver/run/state_result.hpp"
#include "solver/run/stray_field.hpp"
#include "solver/thermal/lumped_part.hpp"
#include "solver/thermal/warming.hpp"

namespace cw {

namespace {

using Figure = std::function<double(const SolvedState&)>;

/// The state in which `figure` is largest.
const SolvedState& worst(std::span<const SolvedState> states, const Figure& figure) {
  return *std::max_element(
      states.begin(), states.end(),
      [&](const SolvedState& a, const SolvedState& b) { return figure(a) < figure(b); });
}

double choke_peak(const SolvedState& s) {
  return s.tank->shown().choke.peak_A;
}

/// Loss in one choke [W].
double choke_loss(const SolvedState& s, int count) {
  return s.tank->shown().power.chokes_W / count;
}

/// Loss in one switch [W].
double switch_loss(const SolvedState& s, int count) {
  return s.tank->shown().power.switches_W / count;
}

RingCore ring_core(const ChokeCore& core) {
  RingCore ring{core.outer,
                core.inner,
                core.height,
                core.permeability.value_or(1.0),
                core.inductance_factor,
                core.saturation,
                std::nullopt};
  if (core.bias_80 && core.bias_50) ring.roll_off = BiasRollOff{*core.bias_80, *core.bias_50};
  return ring;
}

std::optional<ChokeResult> choke_result(const Choke& choke, std::span<const SolvedState> states) {
  if (!choke.core) return std::nullopt;
  const SolvedState& state = worst(states, choke_peak);
  const ChokeLoad& load = state.tank->shown().choke;
  const auto wound = wind_choke(ring_core(*choke.core),
                                {choke.core->wire, copper_resistivity(Temperature::celsius(20))},
                                {choke.inductance, load.mean_A, load.ripple_peak_to_peak_A});
  ChokeResult r;
  r.state = state.name;
  if (!wound) return r;  // no number of turns reaches the inductance
  r.turns = wound->turns;
  r.wire_length = wound->wire_length;
  r.resistance = wound->resistance_ohm;
  r.inductance = wound->biased_H;
  r.unbiased_inductance = wound->unbiased_H;
  r.flux_density_peak = wound->flux_density_peak;
  r.hole_fill = wound->hole_fill;
  r.saturation_current = wound->saturation_A;
  return r;
}

std::optional<JunctionResult> junction_result(const Heater& subject, const DriveParts& drive,
                                              std::span<const SolvedState> states) {
  if (drive.transistor == nullptr || !drive.transistor->heat_sink) return std::nullopt;
  const HeatSink& sink = *drive.transistor->heat_sink;
  const auto loss = [&](const SolvedState& s) { return switch_loss(s, drive.switches); };
  const SolvedState& state = worst(states, loss);
  JunctionResult r;
  r.state = state.name;
  r.loss = loss(state);
  const Temperature air = surroundings_of(subject);
  const HeatPath path{sink.junction_to_case, sink.case_to_sink, sink.sink_to_air.value_or(0.0)};
  if (sink.sink_to_air) r.junction = junction_temperature(path, r.loss, air);
  if (sink.junction_limit && r.loss > 0)
    r.sink_allowed = sink_allowed(path, r.loss, air, *sink.junction_limit);
  if (!sink.junction_to_air) return r;
  r.alone = Temperature{air.kelvin + r.loss * *sink.junction_to_air};
  if (sink.heat_capacity && sink.junction_limit)
    r.alone_to_limit = time_to_reach({*sink.heat_capacity, *sink.junction_to_air}, r.loss, air, air,
                                     *sink.junction_limit);
  return r;
}

double tank_current(const SolvedState& s) {
  return s.current;
}

/// Permitted rise if the case gives none [K]; common practice, no source.
constexpr double usual_rise = 40.0;

std::vector<PathResult> path_results(const Heater& subject, std::span<const SolvedState> states) {
  std::vector<PathResult> all;
  const SolvedState& state = worst(states, tank_current);
  for (const PathConductor& c : subject.tank->conductors) {
    const FlatConductor flat{
        c.kind == ConductorKind::board ? FlatConductor::Kind::board : FlatConductor::Kind::bar,
        c.width,
        c.thickness,
        c.length,
        c.solder.value_or(0.0),
        c.strap.value_or(0.0),
        c.in_parallel};
    const ConductorHeat heat =
        heat_of(flat, state.current, state.frequency, surroundings_of(subject));
    PathResult r;
    r.name = c.name;
    r.state = state.name;
    r.current = state.current;
    r.resistance = heat.resistance_ohm;
    r.loss = heat.loss_W;
    r.solder_share = solder_share(flat, state.frequency, surroundings_of(subject));
    r.rise = heat.rise_K;
    r.softens_after = heat.softens_s;
    r.width_needed =
        width_for(flat, state.current, state.frequency, watch_from * c.rise.value_or(usual_rise));
    all.push_back(r);
  }
  return all;
}

/// Power at the supply's terminals [W].
double supply_power(const SolvedState& s) {
  const TankPoint& point = s.tank->running;
  return point.supply_voltage_V * point.supply_current_A;
}

/// A part that warms up, at the loss of the state that heats it most.
void add_duty(const Heater& subject, const std::string& part, const std::optional<Warming>& warming,
              std::span<const SolvedState> states, const Figure& loss,
              std::vector<DutyResult>& all) {
  if (!warming) return;
  const SolvedState& state = worst(states, loss);
  DutyResult r;
  r.part = part;
  r.state = state.name;
  r.power = loss(state);
  r.limit = warming->limit;
  const Temperature air = surroundings_of(subject);
  r.steady = Temperature{air.kelvin + r.power * warming->to_air};
  const LumpedPart lump{[&](Temperature) { return warming->heat_capacity; },
                        [&](Temperature) { return r.power; },
                        [&](Temperature t) { return (t.kelvin - air.kelvin) / warming->to_air; }};
  const DutyCycle cycle = duty_cycle(lump, air, warming->limit);
  r.on = cycle.first_on;
  r.off = cycle.off;
  r.share = cycle.largest_share;
  all.push_back(r);
}

/// Every part whose heat capacity is given.
void add_duties(const Heater& subject, const DriveParts& drive, std::span<const SolvedState> states,
                std::vector<DutyResult>& all) {
  add_duty(
      subject, "capacitor can", subject.tank->can_warming, states,
      [](const SolvedState& s) { return s.tank->shown().can.loss_W; }, all);
  if (drive.choke != nullptr)
    add_duty(
        subject, "feed choke", drive.choke->warming, states,
        [&](const SolvedState& s) { return choke_loss(s, drive.choke->count); }, all);
  if (drive.transistor != nullptr)
    add_duty(
        subject, "switch", drive.transistor->warming, states,
        [&](const SolvedState& s) { return switch_loss(s, drive.switches); }, all);
  if (subject.coil.leads)
    add_duty(
        subject, "leads", subject.coil.leads->warming, states,
        [](const SolvedState& s) { return s.tank->shown().power.leads_W; }, all);
}

std::vector<NearbyResult> nearby_results(const Heater& subject,
                                         std::span<const SolvedState> states) {
  std::vector<NearbyResult> all;
  if (subject.nearby.empty()) return all;
  const SolvedState& state = worst(states, tank_current);
  const StrayField stray(subject, state);
  for (const Nearby& n : subject.nearby) {
    NearbyResult r;
    r.name = n.name;
    r.state = state.name;
    r.field = stray.at({n.r, n.z});
    const Temperature cold = Temperature::celsius(20.0);
    const NearbyMetal metal{n.material.resistivity(cold), n.material.initial_permeability(cold)};
    r.power = n.kind == NearbyKind::ring
                  ? ring_power({*n.diameter, *n.thickness}, metal, state.frequency, r.field)
                  : bracket_power(*n.surface, metal, state.frequency, r.field);
    all.push_back(r);
  }
  return all;
}

std::optional<double> breakdown_of(const Coil& coil) {
  const double gap = turn_gap(coil);
  if (gap <= 0) return std::nullopt;
  return breakdown_peak_V(gap, Temperature::celsius(20.0));
}

}  // namespace

std::optional<PartsResult> heater_parts(const Heater& subject,
                                        std::span<const SolvedState> states) {
  PartsResult parts;
  if (states.empty()) return std::nullopt;
  parts.nearby = nearby_results(subject, states);
  if (!tank_rings(subject.drive))
    return parts.nearby.empty() ? std::nullopt : std::optional(std::move(parts));
  const DriveParts drive = drive_parts(subject.drive);
  parts.breakdown_peak = breakdown_of(subject.coil);
  if (drive.choke != nullptr) parts.choke = choke_result(*drive.choke, states);
  parts.junction = junction_result(subject, drive, states);
  parts.path = path_results(subject, states);
  if (drive.supply->mains) {
    const SolvedState& state = worst(states, supply_power);
    const double efficiency = drive.supply->mains->efficiency;
    parts.mains = MainsResult{supply_power(state) / efficiency, state.name, {}, {}};
  }
  add_duties(subject, drive, states, parts.duty);
  return parts;
}

void add_heat_to_mains(const Heater& subject, const HeatResult& heat, PartsResult& parts) {
  if (!parts.mains) return;
  const Mains& mains = *supply_of(subject.drive)->mains;
  parts.mains->energy = heat.energy / mains.efficiency;
  if (mains.price_per_kWh) parts.mains->cost = *parts.mains->energy / 3.6e6 * *mains.price_per_kWh;
}

}  // namespace cw
