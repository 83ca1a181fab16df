#include "solver/run/heating.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mesh/generate.hpp"
#include "mesh/move_rings.hpp"
#include "mesh/planar/outline.hpp"
#include "solver/coupled/accuracy.hpp"
#include "solver/field/layering.hpp"
#include "solver/heater/target.hpp"
#include "solver/run/body_heats.hpp"

namespace cw {

namespace {

/// A run without `until` is given up after this time [s].
constexpr double longest_run = 3600.0;

/// Longest edge in a magnetic body over half its thickness. It must resolve the boundary of the
/// magnetic part, which moves through the body (see front_error).
constexpr double edges_a_thickness = 0.25;

/// Temperature that counts as hot if a case names no target; common practice, no source.
constexpr Temperature dull_red = Temperature::celsius(600.0);

HeatingDrive drive_of(const Heater& subject) {
  if (const auto fixed = fixed_frequency(subject)) return *fixed;
  return tank_circuit(subject);
}

std::vector<WarmBody> warm_bodies(const HeatedBodies& bodies, const FieldModel& field) {
  std::vector<WarmBody> warm;
  for (const ThermalBody& body : bodies.body) {
    if (body.material.insulator()) continue;
    WarmBody one{body.region, body.material, nullptr};
    for (const SaturatingRegion& s : field.saturating)
      if (s.region == body.region) one.law = s.law;
    warm.push_back(std::move(one));
  }
  return warm;
}

ProbeKind probe_of(TargetAt at) {
  switch (at) {
    case TargetAt::surface:
      return ProbeKind::surface;
    case TargetAt::centre:
      return ProbeKind::centre;
    case TargetAt::mean:
      return ProbeKind::mean;
    case TargetAt::coldest:
      break;
  }
  return ProbeKind::coldest;
}

/// Whether anything that is heated may begin to melt before the run ends.
bool may_melt(const Heater& subject) {
  const auto within = [&](const Material& material) {
    return material.melting &&
           (!subject.heat->target || *subject.heat->target >= material.melting->solidus);
  };
  return within(subject.workpiece->material) ||
         std::ranges::any_of(subject.bodies, [&](const Body& b) { return within(b.material); });
}

/// The mesh of a whole run. It is refined until both the cold coil and the coil at the target,
/// where perhaps nothing is magnetic any more, are as accurate as requested. If something melts,
/// the mesh is not refined: every node that passes through its latent heat takes a step of its own.
Mesh heating_mesh(const Heater& subject, Effort effort, const FieldModel& field,
                  const SolvedState& cold) {
  constexpr int most_unknowns = 60000;  // a run solves the field dozens of times
  // Usual layers resolve the cold skin and are coarse further inside, where magnetism ends later in
  // the run.
  constexpr double finer = 0.9;
  const Sizing sizing = sizing_for(effort).scaled(finer);
  Mesh mesh =
      generate_mesh(field.section, field.saturating.empty() ? sizing : for_saturation(sizing));
  if (may_melt(subject)) return mesh;
  const AccuracyGoal goal{allowed_error(effort), 1e-3, cold.sensitivity > 0};
  const Excitation about{cold.frequency, cold.current};
  const auto refine = [&](const FieldModel& model) {
    mesh =
        refined_for(std::move(mesh),
                    {model.media, model.winding, model.saturating, about.frequency, about.current},
                    goal, most_unknowns)
            .mesh;
  };
  refine(field);
  if (subject.heat->target)
    refine(field_model(subject, {*subject.heat->target, cold.temperature.coil}, about));
  return mesh;
}

LocalCoil start_of(const SolvedState& cold) {
  if (cold.tank) return cold.tank->coil;
  LocalCoil start;
  start.at = {cold.frequency, cold.current};
  return start;
}

}  // namespace

HeatingSetup::Meshed HeatingSetup::meshed(const Heater& subject, Effort effort,
                                          const SolvedState& cold) {
  Meshed made{field_model(subject, cold.temperature, {cold.frequency, cold.current}), nullptr};
  const double finer = sizing_for(effort).clearance / Sizing{}.clearance;
  for (const SaturatingRegion& body : made.field.saturating) {
    SectionRegion& region = made.field.section.regions[body.region - 1];
    region.largest_edge =
        edges_a_thickness * finer * half_thickness(std::get<Polygon>(region.shape).outline);
  }
  made.mesh = std::make_unique<Mesh>(heating_mesh(subject, effort, made.field, cold));
  return made;
}

HeatingSetup::HeatingSetup(const Heater& subject, Effort effort, const SolvedState& cold)
    : HeatingSetup(subject, meshed(subject, effort, cold), cold) {}

std::unique_ptr<HeatingSetup> HeatingSetup::with_coil_of(const Heater& changed,
                                                         const SolvedState& cold) const {
  Meshed made{field_model(changed, cold.temperature, {cold.frequency, cold.current}), nullptr};
  const std::vector<SectionRegion>& here = field_.section.regions;
  for (std::size_t k = 0; k < std::min(here.size(), made.field.section.regions.size()); ++k) {
    SectionRegion& region = made.field.section.regions[k];
    region.skin_depth = here[k].skin_depth;
    region.largest_edge = here[k].largest_edge;
    region.buried_skin = here[k].buried_skin;
  }
  auto moved = move_rings(*mesh_, field_.section, made.field.section);
  if (!moved) return nullptr;
  made.mesh = std::make_unique<Mesh>(std::move(*moved));
  return std::unique_ptr<HeatingSetup>(new HeatingSetup(changed, std::move(made), cold));
}

HeatingSetup::HeatingSetup(const Heater& subject, Meshed made, const SolvedState& cold)
    : subject_(subject), field_(std::move(made.field)), mesh_(std::move(made.mesh)) {
  HeatedBodies bodies = heated_bodies(subject, *mesh_);
  ThermalMesh thermal = make_thermal_mesh(*mesh_, bodies.body, bodies.contacts);
  const ThermalBoundary boundary = heat_boundary(subject, *mesh_, thermal, bodies.emissivity);
  thermal_ = std::make_unique<ThermalModel>(std::move(thermal), boundary);
  coil_ = std::make_unique<HeatedCoil>(
      HeatedField{*mesh_, field_.media, field_.winding, warm_bodies(bodies, field_),
                  drive_of(subject), start_of(cold)},
      *thermal_);
  const Heat& heat = *subject.heat;
  const Stretch stretch = heated_stretch(subject);
  plan_.workpiece = mesh_->find_region("workpiece");
  plan_.low = stretch.from;
  plan_.high = stretch.to;
  plan_.target = heat.target;
  plan_.target_at = heat.target_depth ? ProbeKind::depth : probe_of(heat.target_at);
  plan_.target_depth = heat.target_depth.value_or(0.0);
  if (const std::string body = target_body(subject); body != "workpiece")
    plan_.target_of = mesh_->find_region(body);
  if (heat.target_joint) {
    plan_.target_at = ProbeKind::coldest;
    plan_.target_of = mesh_->find_region(heat.target_joint->first);
    plan_.target_joint = mesh_->find_region(heat.target_joint->second);
  }
  plan_.until = heat.until.value_or(longest_run);
  add_events();
  add_readings(stretch);
}

void HeatingSetup::add_readings(const Stretch& stretch) {
  marks_.austenite = austenite_of(subject_).value_or(plan_.target.value_or(dull_red));
  marks_.view = plan_.target.value_or(dull_red);
  plan_.readings = [readings = HeatReadings(*thermal_, plan_.workpiece, stretch, marks_),
                    target = ProbeSite(*thermal_, plan_.target_probe()),
                    bodies = BodyHeats(*thermal_)](const Eigen::VectorXd& kelvin,
                                                   const Eigen::VectorXd& enthalpy) {
    const HeatReading r = readings(kelvin);
    std::vector<double> all{r.hardened_depth, r.mass_above, r.spread, target.read(kelvin)};
    bodies.append(kelvin, enthalpy, all);
    return all;
  };
}

void HeatingSetup::add_events() {
  const double start = subject_.workpiece->temperature.kelvin;
  for (const ThermalBody& body : thermal_->mesh().body) {
    const std::string name = mesh_->region_name[body.region];
    const bool work = body.region == plan_.workpiece;
    const auto add = [&](const std::string& what, ProbeKind kind, Temperature at, bool molten) {
      if (at.kelvin <= start) return;
      const Probe probe{kind, body.region, work ? plan_.low : -1e9, work ? plan_.high : 1e9};
      plan_.events.push_back({fmt::format("{}: {}", name, what), probe, at, true, molten});
    };
    const auto& magnetic = body.material.magnetisation;
    if (magnetic) {
      add(first_past_curie, ProbeKind::hottest, magnetic->curie, false);
      add("all past the Curie point", ProbeKind::coldest, magnetic->curie, false);
    }
    if (body.material.melting) {
      add("begins to melt", ProbeKind::hottest, body.material.melting->solidus, false);
      add("all molten", ProbeKind::coldest, body.material.melting->liquidus, true);
    }
  }
}

HeatingOutcome HeatingSetup::run(std::optional<HeatingState> from) {
  rest_ahead_.reset();
  if (plan_.target)
    plan_.out_of_reach = [this](const Eigen::VectorXd& kelvin) {
      constexpr double surely = 3.0;  // [K]
      HeatingRest rest = find_rest(*coil_, *thermal_, plan_, kelvin);
      const bool out = rest.settled && rest.reading < plan_.target->kelvin - surely;
      if (out) rest_ahead_ = std::move(rest);
      return out;
    };
  return run_heating(*coil_, *thermal_, plan_, std::move(from), subject_.workpiece->temperature);
}

std::optional<HeatingRest> HeatingSetup::rest(const HeatingState& from, bool at_any_cost) {
  if (rest_ahead_) return rest_ahead_;
  HeatingRest rest =
      find_rest(*coil_, *thermal_, plan_, thermal_->warmths(from.thermal.enthalpy).kelvin);
  if (rest.settled) return rest;
  if (rest.melts || !at_any_cost) return std::nullopt;
  // The boundary of the magnetic part stays inside the workpiece for good. Compute the approach in
  // time.
  HeatingPlan on = plan_;
  on.target.reset();
  on.out_of_reach = {};
  on.readings = {};
  on.milestone = 0.0;
  on.until = 6 * from.thermal.time + 600.0;
  const HeatingOutcome end =
      run_heating(*coil_, *thermal_, on, from, subject_.workpiece->temperature);
  if (end.end != HeatingEnd::stalled) return std::nullopt;
  rest.kelvin = thermal_->warmths(end.state.thermal.enthalpy).kelvin;
  rest.reading = ProbeSite(*thermal_, on.target_probe()).read(rest.kelvin);
  rest.settled = true;
  return rest;
}

}  // namespace cw
