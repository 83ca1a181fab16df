#include "cases/sweep/fast_design.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "cases/sweep/settled_state.hpp"
#include "solver/run/state_result.hpp"

namespace cw::cases {

namespace {

/// Responses serve many designs: finer than the mesh of one.
constexpr double finer = 0.6;

bool non_magnetic(const Medium& medium) {
  return std::abs(medium.reluctivity * mu0 - 1) < 1e-3;
}

/// Whether the method applies to these rings and this work.
bool simple(const Case& design, const FieldModel& model) {
  if (!design.bodies.empty() || !design.nearby.empty() || !model.saturating.empty()) return false;
  if (design.workpiece && !design.workpiece->temperature_profile.empty()) return false;
  if (model.winding.turns.kind != TurnKind::massive) return false;
  if (!std::all_of(model.media.begin(), model.media.end(), non_magnetic)) return false;
  return std::all_of(
      model.section.regions.begin(), model.section.regions.end(), [](const SectionRegion& region) {
        return region.name == "workpiece" || std::holds_alternative<Disc>(region.shape);
      });
}

StateResult result_of(const Case& design, const SolvedState& state, const FixedFrequency& drive) {
  const LoadedCoil& coil = state.coil;
  const double current = state.current, square = current * current;
  StateResult r;
  r.name = state.name;
  r.frequency = state.frequency;
  r.coil = coil_result(design, coil, current);
  r.coil.temperature = state.temperature.coil;
  r.drive = {std::string(kind_of(design.drive)), drive.frequency.hertz, current,
             current * std::abs(coil.impedance())};
  r.power.coil = square * coil.conductor_resistance;
  r.power.leads = square * coil.leads.resistance_ohm;
  if (design.workpiece) {
    r.workpiece_temperature = state.temperature.work;
    r.power.workpiece = square * coil.reflected_resistance;
  }
  r.power.total = r.power.sum();
  r.energy = square * coil.energy;
  r.accuracy.method = "response of rings and workpiece reused between designs; no estimate";
  if (!design.workpiece) return r;
  const Medium& work = state.model.media[1];
  r.efficiency = *r.power.workpiece / r.power.total;
  if (work.conductivity > 0)
    r.skin_depth = skin_depth(work.conductivity, 1 / (mu0 * work.reluctivity), drive.frequency);
  return r;
}

const Disc& disc_of(const FieldModel& model, RegionId turn) {
  return std::get<Disc>(model.section.regions[static_cast<std::size_t>(turn) - 1].shape);
}

bool loaded(const Case& design, const FieldModel& model) {
  return design.workpiece && model.media[1].conductivity > 0;
}

/// Whether the filaments of rings and work have enough distance.
bool apart(const Case& design, const FieldModel& model) {
  if (!loaded(design, model)) return true;
  return std::ranges::all_of(model.winding.turns.region, [&](RegionId id) {
    const Disc& disc = disc_of(model, id);
    return distance_to({model.section.regions.front()}, disc.centre) >= 1.2 * disc.radius;
  });
}

}  // namespace

const RingAnswer& FastDesigns::ring(const Disc& disc, const Medium& metal, Frequency f) {
  auto& kept = rings_[{disc.centre.r, disc.radius, disc.bore, metal.conductivity, f.hertz}];
  // In the middle plane: then the response does not depend on where the first design had the ring.
  const Disc centred{{disc.centre.r, 0}, disc.radius, disc.bore};
  if (!kept)
    kept = std::make_unique<RingAnswer>(
        ring_answer(centred, metal, f, sizing_for(effort_).scaled(finer)));
  return *kept;
}

const FieldAnswer& FastDesigns::body(const FieldModel& model, const Case& design, double clearance,
                                     Frequency f) {
  // Steps of sqrt(2), so that designs of similar clearance share a response.
  const double step = std::floor(2 * std::log2(clearance));
  std::vector<double> key{model.media[1].conductivity, f.hertz, step};
  for (const Point& corner : design.workpiece->outline.profile) {
    key.push_back(corner.r);
    key.push_back(corner.z);
  }
  auto& kept = bodies_[key];
  if (!kept)
    kept = std::make_unique<FieldAnswer>(
        body_answer({model.section.regions.front()}, {Medium{}, model.media[1]}, f,
                    sizing_for(effort_).scaled(finer), std::exp2(step / 2)));
  return *kept;
}

RingFigures FastDesigns::rings_of(const FieldModel& model, const Case& design, Frequency f) {
  std::vector<PlacedRing> rings;
  double clearance = 1e300;
  for (std::size_t k = 0; k < model.winding.turns.region.size(); ++k) {
    const RegionId id = model.winding.turns.region[k];
    const Disc& disc = disc_of(model, id);
    rings.push_back(
        {&ring(disc, model.media[id], f), disc.centre.z, model.winding.turns.weight[k]});
    if (!loaded(design, model)) continue;
    const double away = distance_to({model.section.regions.front()}, disc.centre);
    clearance = std::min(clearance, away - 0.7 * disc.radius);  // distance of its filaments
  }
  return solve_rings(rings, loaded(design, model) ? &body(model, design, clearance, f) : nullptr,
                     f);
}

std::optional<Result> FastDesigns::solve(const Case& design) {
  const auto begin = std::chrono::steady_clock::now();
  const auto drive = fixed_frequency(design);
  if (!drive) return std::nullopt;
  const auto model_at = [&](Temperature coil) {
    const Temperature work =
        design.workpiece ? design.workpiece->temperature : Temperature::celsius(20.0);
    return field_model(design, {work, coil}, {drive->frequency, drive->rms});
  };
  const FieldModel model = model_at(coil_temperature(design.coil));
  if (!simple(design, model) || !apart(design, model)) return std::nullopt;
  const SolvedState state = settled_state(design, *drive, [&](Temperature coil) {
    return rings_of(model_at(coil), design, drive->frequency);
  });
  Result result;
  result.states.push_back(result_of(design, state, *drive));
  result.timing.solve = result.timing.total =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return result;
}

}  // namespace cw::cases
