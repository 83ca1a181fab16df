#include "solver/run/cooling.hpp"

#include <algorithm>
#include <cmath>

#include "materials/solder.hpp"
#include "materials/water.hpp"
#include "solver/run/coil_tube.hpp"

namespace cw {

namespace {

/// The conductor's metal at a temperature [J/K].
double metal_capacity(const Heater& subject, const CoilTube& tube, Temperature t) {
  const Material& metal = subject.coil.conductor.material;
  return metal.density.value * tube.metal_area * tube.length * metal.heat_capacity(t);
}

/// Times after loss of flow: for the piece of tube at the outlet with its standing water, then for
/// the metal alone. Without heat loss to the air.
void add_loss_of_flow(const Heater& subject, const SolvedState& state, const CoolingResult& c,
                      WaterCooling& w) {
  const CoilTube tube = coil_tube(subject.coil);
  const WaterProperties water = water_at(w.outlet);
  const double held = tube.bore->area * tube.length * water.density * water.heat_capacity;
  LumpedPart part;
  part.power = [&, ratio = resistance_law(subject, state)](Temperature t) {
    return (c.coil_loss + c.lead_loss) * ratio(t) + c.from_work;
  };
  part.loss = [](Temperature) { return 0.0; };
  part.capacity = [&](Temperature t) { return held + metal_capacity(subject, tube, t); };
  if (w.outlet < water_boils)
    w.no_flow_to_boiling = time_between(part, w.outlet, water_boils, true);
  if (!w.no_flow_to_boiling) return;
  part.capacity = [&](Temperature t) { return metal_capacity(subject, tube, t); };
  if (const auto more = time_between(part, water_boils, solder_softens, true))
    w.no_flow_to_solder = *w.no_flow_to_boiling + *more;
}

WaterCooling water_cooling(const Heater& subject, const SolvedState& state,
                           const CoolingResult& c) {
  const Coolant& coolant = *subject.coil.coolant;
  const CoilTube geometry = coil_tube(subject.coil);
  const CooledTube tube = cool_tube(*geometry.bore, coolant.flow, coolant.inlet, c.heat());
  WaterCooling w;
  w.flow = coolant.flow;
  w.inlet = tube.inlet;
  w.outlet = tube.outlet;
  w.wall_mean = tube.wall_mean;
  w.wall_hottest = tube.wall_hottest;
  w.velocity = tube.flow.velocity;
  w.reynolds = tube.flow.reynolds;
  w.friction = tube.flow.friction;
  w.pressure_drop = tube.flow.pressure_drop;
  w.pressure = coolant.pressure;
  w.boiling_margin = water_boils.kelvin - tube.wall_hottest.kelvin;
  w.wanted_rise = coolant.rise;
  w.flow_for_rise = flow_for_rise(c.heat(), coolant.rise, coolant.inlet);
  w.passes = state.cooling_passes;
  w.agreement = state.cooling_agreement;
  add_loss_of_flow(subject, state, c, w);
  return w;
}

void add_history(const LumpedPart& part, StillAirCooling& a) {
  constexpr int points = 40;
  const Temperature top = a.settles ? Temperature{a.settles->kelvin - 0.5} : a.limit;
  if (top <= a.surroundings) return;
  for (const LumpedPoint& p : history(part, a.surroundings, top, true, points))
    a.points.push_back({true, p.time, p.temperature});
  const Temperature cool{std::lerp(a.surroundings.kelvin, top.kelvin, 0.1)};
  for (const LumpedPoint& p : history(part, top, cool, false, points))
    a.points.push_back({false, p.time, p.temperature});
}

StillAirCooling air_cooling(const Heater& subject, const SolvedState& state,
                            const CoolingResult& c) {
  StillAirCooling a;
  a.surroundings = surroundings_of(subject);
  a.limit_given = subject.coil.temperature_limit.has_value();
  a.limit = subject.coil.temperature_limit.value_or(solder_softens);
  const LumpedPart part = dry_tube(subject, state, c.coil_loss + c.lead_loss, c.from_work);
  a.heat_capacity = part.capacity(a.surroundings);
  a.first_rate = part.power(a.surroundings) / a.heat_capacity;
  a.settles = settles_at(part, a.surroundings, a.limit);
  const DutyCycle cycle = duty_cycle(part, a.surroundings, a.limit);
  a.first_on = cycle.first_on;
  a.on = cycle.on;
  a.off = cycle.off;
  a.restart = cycle.restart;
  a.largest_share = cycle.largest_share;
  add_history(part, a);
  return a;
}

}  // namespace

std::optional<CoolingResult> heater_cooling(const Heater& subject,
                                            std::span<const SolvedState> states,
                                            std::span<const StateResult> results) {
  constexpr double least = 0.1;  // [W]
  CoolingResult worst;
  const SolvedState* hottest = nullptr;
  for (std::size_t i = 0; i < states.size(); ++i) {
    CoolingResult c;
    c.at_state = states[i].name;
    c.coil_loss = results[i].power.coil;
    c.lead_loss = results[i].power.leads;
    if (states[i].name != "empty") c.from_work = heat_from_work(subject, states[i].temperature);
    if (hottest != nullptr && c.heat() <= worst.heat()) continue;
    worst = c;
    hottest = &states[i];
  }
  if (hottest == nullptr || worst.heat() < least) return std::nullopt;
  worst.tube_length = coil_tube(subject.coil).length;
  if (subject.coil.coolant)
    worst.water = water_cooling(subject, *hottest, worst);
  else
    worst.air = air_cooling(subject, *hottest, worst);
  return worst;
}

}  // namespace cw
