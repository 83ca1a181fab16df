#include "cases/sweep/fast_design.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "cases/run/state_result.hpp"

namespace cw::cases {

namespace {

/// Tables serve many designs: finer than the mesh of one.
constexpr double finer = 0.6;

struct FixedDrive {
  const char* kind;
  Frequency frequency;
  double rms;
  bool voltage;
};

std::optional<FixedDrive> fixed_drive(const Case& design) {
  if (const auto* drive = std::get_if<CurrentDrive>(&design.drive))
    return FixedDrive{"current", drive->frequency, drive->rms, false};
  if (const auto* drive = std::get_if<VoltageDrive>(&design.drive))
    return FixedDrive{"voltage", drive->frequency, drive->rms, true};
  return std::nullopt;
}

bool non_magnetic(const Medium& medium) {
  return std::abs(medium.reluctivity * mu0 - 1) < 1e-3;
}

/// Whether rings and work are of the kind whose answers can be kept.
bool simple(const Case& design, const FieldModel& model) {
  if (!design.bodies.empty() || !model.saturating.empty()) return false;
  if (model.winding.turns.kind != TurnKind::massive) return false;
  if (!std::all_of(model.media.begin(), model.media.end(), non_magnetic)) return false;
  return std::all_of(
      model.section.regions.begin(), model.section.regions.end(), [](const SectionRegion& region) {
        return region.name == "workpiece" || std::holds_alternative<Disc>(region.shape);
      });
}

StateResult state_of(const Case& design, const FixedDrive& drive, const LoadedCoil& coil,
                     const Medium* work) {
  const double current = drive.voltage ? drive.rms / std::abs(coil.impedance()) : drive.rms;
  const double square = current * current;
  StateResult state;
  state.name = "fixed_frequency";
  state.frequency = drive.frequency;
  state.coil = coil_result(design, coil, current);
  state.drive = {drive.kind, drive.frequency.hertz, current, current * std::abs(coil.impedance())};
  if (design.workpiece) {
    state.workpiece_temperature = design.workpiece->temperature;
    state.power.workpiece = square * coil.reflected_resistance;
  }
  state.power.coil = square * coil.conductor_resistance;
  state.power.leads = square * coil.leads.resistance_ohm;
  state.power.total = state.power.sum();
  state.energy = square * coil.energy;
  state.accuracy.method = "answers of rings and work kept from design to design; no estimate";
  if (work != nullptr && work->conductivity > 0) {
    state.efficiency = *state.power.workpiece / state.power.total;
    state.skin_depth =
        skin_depth(work->conductivity, 1 / (mu0 * work->reluctivity), drive.frequency);
  }
  return state;
}

}  // namespace

const RingAnswer& FastDesigns::ring(const Disc& disc, const Medium& metal, Frequency f) {
  auto& kept = rings_[{disc.centre.r, disc.radius, disc.bore, metal.conductivity, f.hertz}];
  // In the middle plane: the answer is the same to rounding wherever the first design had the ring.
  const Disc centred{{disc.centre.r, 0}, disc.radius, disc.bore};
  if (!kept)
    kept = std::make_unique<RingAnswer>(
        ring_answer(centred, metal, f, sizing_for(effort_).scaled(finer)));
  return *kept;
}

const FieldAnswer& FastDesigns::body(const FieldModel& model, const Case& design, double clearance,
                                     Frequency f) {
  // Steps of sqrt(2): designs of nearly the same clearance share an answer.
  const double step = std::floor(2 * std::log2(clearance));
  std::vector<double> key{model.media[1].conductivity, f.hertz, step};
  for (const Corner& corner : design.workpiece->outline.profile) {
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

std::optional<Result> FastDesigns::solve(const Case& design) {
  const auto begin = std::chrono::steady_clock::now();
  const auto drive = fixed_drive(design);
  if (!drive) return std::nullopt;
  const Temperature work =
      design.workpiece ? design.workpiece->temperature : Temperature::celsius(20.0);
  const FieldModel model =
      field_model(design, {work, coil_temperature(design.coil)}, {drive->frequency, drive->rms});
  if (!simple(design, model)) return std::nullopt;
  const bool loaded = design.workpiece && model.media[1].conductivity > 0;
  std::vector<PlacedRing> rings;
  double clearance = 1e300;
  for (std::size_t k = 0; k < model.winding.turns.region.size(); ++k) {
    const RegionId id = model.winding.turns.region[k];
    const auto& disc =
        std::get<Disc>(model.section.regions[static_cast<std::size_t>(id) - 1].shape);
    rings.push_back({&ring(disc, model.media[id], drive->frequency), disc.centre.z,
                     model.winding.turns.weight[k]});
    if (!loaded) continue;
    const double away = distance_to({model.section.regions.front()}, disc.centre);
    clearance = std::min(clearance, away - 0.7 * disc.radius);  // its filaments
    if (away < 1.2 * disc.radius) return std::nullopt;
  }
  const FieldAnswer* answer = loaded ? &body(model, design, clearance, drive->frequency) : nullptr;
  const LoadedCoil coil = loaded_coil(model.winding, solve_rings(rings, answer, drive->frequency));
  Result result;
  result.states.push_back(
      state_of(design, *drive, coil, design.workpiece ? &model.media[1] : nullptr));
  result.timing.solve = result.timing.total =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return result;
}

}  // namespace cw::cases
