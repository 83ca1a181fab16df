#include "cases/compare/power_up.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/generate.hpp"
#include "solver/coupled/accuracy.hpp"
#include "solver/field/flux_at.hpp"
#include "solver/field/layering.hpp"
#include "solver/heater/rings.hpp"
#include "solver/run/solve_states.hpp"

namespace cw::cases {

namespace {

/// Removes a turn from the series; its region remains in the field as a closed ring.
void close_turn(Winding& winding, std::size_t turn) {
  const auto at = static_cast<std::ptrdiff_t>(turn);
  winding.turns.region.erase(winding.turns.region.begin() + at);
  winding.turns.weight.erase(winding.turns.weight.begin() + at);
  winding.radius.erase(winding.radius.begin() + at);
}

double tank_rms(const PowerUp& power) {
  return power.point.tank.shown().coil_current_rms_A;
}

}  // namespace

PowerUp power_up(const Case& subject, std::optional<std::size_t> shorted,
                 const std::optional<LocalCoil>& start, Effort effort) {
  const TankCircuit circuit = tank_circuit(subject);
  const LocalCoil from =
      start.value_or(LocalCoil{.at = unloaded_point(circuit, rough_inductance(subject.coil))});
  const Temperature work =
      subject.workpiece ? subject.workpiece->temperature : Temperature::celsius(20.0);
  FieldModel model = field_model(subject, {work, coil_temperature(subject.coil)},
                                 {from.at.frequency, from.at.current_rms_A});
  const Sizing sizing = sizing_for(effort);
  const Mesh mesh =
      refined_for(
          generate_mesh(model.section, model.saturating.empty() ? sizing : for_saturation(sizing)),
          {model.media, model.winding, model.saturating, from.at.frequency, from.at.current_rms_A},
          {allowed_error(effort), 1e-3, true})
          .mesh;
  EddySystem system(mesh, model.media);
  if (shorted) close_turn(model.winding, *shorted);
  PowerUp power;
  power.point = solve_operating_point(system, model.winding, model.saturating, circuit, from);
  if (!power.point.coil || !subject.commissioning.pickup_loop) return power;
  const PickupLoop& loop = *subject.commissioning.pickup_loop;
  const FieldSolution field = scaled(power.point.coil->series.field, tank_rms(power));
  const auto flux = FluxAt(mesh, field)({loop.r, loop.z});
  power.pickup_flux = std::numbers::pi / 4 * loop.diameter * loop.diameter * std::abs(flux[1]);
  return power;
}

Case emptied(const Case& subject) {
  Case empty = subject;
  empty.workpiece.reset();
  empty.bodies.clear();
  return empty;
}

namespace {

/// Largest radius of the objects inside the coil [m].
double widest(const Case& subject) {
  double widest = 0;
  const auto add = [&](const Outline& outline) {
    for (const Point& c : outline.profile) widest = std::max(widest, c.r);
  };
  if (subject.workpiece) add(subject.workpiece->outline);
  for (const Body& body : subject.bodies) add(body.outline);
  return widest;
}

}  // namespace

Case without_insulators(const Case& subject) {
  Case bare = subject;
  std::erase_if(bare.bodies, [](const Body& body) {
    return body.material.insulator() && !body.material.magnetisation &&
           body.material.relative_permeability.value == 1.0;
  });
  return bare;
}

Case with_wider_gap(const Case& subject, double by) {
  Case changed = without_insulators(subject);
  // The coil must still fit over what is inside it; objects beside it do not limit it.
  constexpr double least = 0.2e-3;
  const double room = subject.coil.bore / 2 - widest(changed) - least;
  if (by < 0 && room > 0) by = std::max(by, -room);
  changed.coil.bore += 2 * by;
  if (changed.coil.bore_end) *changed.coil.bore_end += 2 * by;
  for (Ring& ring : changed.coil.rings) ring.r += by;
  return changed;
}

namespace {

void scale(Law& law, double factor) {
  if (auto* constant = std::get_if<double>(&law.shape)) {
    *constant *= factor;
  } else if (auto* table = std::get_if<Table>(&law.shape)) {
    for (double& v : table->value) v *= factor;
  } else {
    // Every kind of piece is linear in its constants, except for the position of the pole.
    for (Piece& piece : std::get<std::vector<Piece>>(law.shape))
      for (std::size_t k = 0; k < piece.c.size(); ++k)
        if (piece.form != Piece::Form::pole || k < 2) piece.c[k] *= factor;
  }
}

}  // namespace

Case with_other_steel(const Case& subject, double half_field, double resistivity) {
  Case changed = subject;
  if (!changed.workpiece) return changed;
  Material& metal = changed.workpiece->material;
  if (metal.magnetisation) {
    Sourced& a = metal.magnetisation->half_field;
    a.value *= half_field;
    a.low *= half_field;
    a.high *= half_field;
    metal.magnetisation_curve.reset();  // the fit replaces it
  }
  scale(metal.resistivity, resistivity);
  return changed;
}

ReadingValues readings_of(const Case& subject, const PowerUp& empty,
                          const std::optional<PowerUp>& loaded) {
  ReadingValues values;
  const auto set = [&](ReadingKind kind, double value) {
    values[static_cast<std::size_t>(kind)] = value;
  };
  if (!empty.point.coil) return values;
  const TankPoint& at = empty.point.tank.shown();
  set(ReadingKind::empty_inductance, empty.point.coil->inductance);
  set(ReadingKind::empty_frequency, at.frequency.hertz);
  set(ReadingKind::empty_current, empty.point.tank.running.supply_current_A);
  if (const auto& ct = subject.commissioning.current_transformer)
    set(ReadingKind::transformer_voltage, at.coil_current_rms_A / ct->turns * ct->burden);
  if (empty.pickup_flux)
    set(ReadingKind::pickup_voltage,
        at.frequency.omega() * *empty.pickup_flux * subject.commissioning.pickup_loop->turns);
  if (!loaded || !loaded->point.coil) return values;
  set(ReadingKind::loaded_frequency, loaded->point.tank.shown().frequency.hertz);
  set(ReadingKind::loaded_current, loaded->point.tank.running.supply_current_A);
  return values;
}

}  // namespace cw::cases
