#include "cases/sweep/frequency_designs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "cases/run/run_case.hpp"
#include "cases/sweep/settled_state.hpp"
#include "materials/units.hpp"
#include "mesh/generate.hpp"
#include "solver/field/frequency_sweep.hpp"
#include "solver/field/refined_mesh.hpp"
#include "solver/field/sources.hpp"

namespace cw::cases {

namespace {

constexpr const char* drive_frequency_key = "drive.frequency";

StateTemperatures temperatures(const Case& design, Temperature coil) {
  return {design.workpiece ? design.workpiece->temperature : Temperature::celsius(20.0), coil,
          true};
}

/// The figures of the rings at a frequency, from the model.
RingFigures coil_figures(const EddySystem& system, const TurnSet& turns,
                         const FrequencySweep& sweep, Frequency f) {
  const FieldSolution field = sweep.field(f);
  RingFigures figures;
  figures.frequency = f;
  figures.impedance = sweep.impedance(f);
  std::vector<double> loss = region_losses(system.mesh(), field);
  for (const RegionId id : turns.region) {
    figures.voltage.push_back(field.loop_voltage[id]);
    figures.loss.push_back(loss[id]);
    figures.conductance.push_back(loop_conductance(system, id));
    loss[id] = 0.0;
  }
  for (const double rest : loss) figures.reflected += rest;
  return figures;
}

}  // namespace

struct FrequencyDesigns::Band {
  Frequency low, high;
};

/// A design's coil over the band. Members refer to those before them.
struct FrequencyDesigns::Kept {
  std::string key;
  FieldModel model;
  Mesh mesh;
  EddySystem system;
  FrequencySweep sweep;

  Kept(std::string name, FieldModel made, const Sizing& sizing, const Band& band)
      : key(std::move(name)),
        model(std::move(made)),
        mesh(refined_mesh(generate_mesh(model.section, sizing), model.media, model.winding.turns,
                          band.high, {})),
        system(mesh, model.media),
        sweep(system, model.winding.turns, band.low, band.high, tolerance) {}

  /// Keeps the distribution of losses accurate to 1e-3 over three decades; see
  /// FrequencySweep::field().
  static constexpr double tolerance = 1e-4;
};

FrequencyDesigns::FrequencyDesigns(Effort effort) : effort_(effort) {}
FrequencyDesigns::~FrequencyDesigns() = default;

std::string without_frequency(const std::vector<Change>& changes) {
  std::string text;
  for (const Change& change : changes)
    if (change.key != drive_frequency_key)
      text += fmt::format("{} = {}\n", change.key, change.value);
  return text;
}

std::optional<FrequencyDesigns::Band> FrequencyDesigns::band_of(const Case& design) {
  // A model costs as much as about six frequencies.
  constexpr std::size_t worth_it = 12;
  if (!design.sweep || design.sweep->sampling) return std::nullopt;
  const auto axis = std::ranges::find(design.sweep->vary, drive_frequency_key, &SweepAxis::key);
  const auto drive = fixed_frequency(design);
  if (axis == design.sweep->vary.end() || axis->values.size() < worth_it || !drive)
    return std::nullopt;
  Band band{drive->frequency, drive->frequency};
  bool of_the_grid = false;  // an optimiser also needs frequencies between
  for (const std::string& value : axis->values) {
    const auto hertz = parse_quantity(value, Dimension::frequency).value;
    if (!hertz || *hertz <= 0) return std::nullopt;
    of_the_grid = of_the_grid || std::abs(*hertz / drive->frequency.hertz - 1) < 1e-9;
    band.low.hertz = std::min(band.low.hertz, *hertz);
    band.high.hertz = std::max(band.high.hertz, *hertz);
  }
  if (!of_the_grid || band.low.hertz == band.high.hertz) return std::nullopt;
  return band;
}

FrequencyDesigns::Kept& FrequencyDesigns::kept(const Case& design, const std::string& key,
                                               const Band& band, Temperature coil) {
  constexpr std::size_t most = 6;
  const std::string name = fmt::format("{}{}", key, coil.kelvin);
  const auto found =
      std::ranges::find_if(kept_, [&](const auto& known) { return known->key == name; });
  if (found != kept_.end()) return **found;
  kept_.push_front(std::make_unique<Kept>(
      name,
      field_model(design, temperatures(design, coil), {band.high, fixed_frequency(design)->rms}),
      sizing_for(effort_), band));
  if (kept_.size() > most) kept_.pop_back();
  return *kept_.front();
}

std::optional<Result> FrequencyDesigns::solve(const Case& design,
                                              const std::vector<Change>& changes) {
  const auto begin = std::chrono::steady_clock::now();
  const auto band = band_of(design);
  const auto drive = fixed_frequency(design);
  if (!band || !drive) return std::nullopt;
  const FieldModel first = field_model(design, temperatures(design, coil_temperature(design.coil)),
                                       {band->high, drive->rms});
  if (!first.saturating.empty() || first.winding.turns.kind != TurnKind::massive)
    return std::nullopt;
  Kept* last = nullptr;
  SolvedState state = settled_state(design, *drive, [&](Temperature coil) {
    last = &kept(design, without_frequency(changes), *band, coil);
    return coil_figures(last->system, last->model.winding.turns, last->sweep, drive->frequency);
  });
  state.mesh = std::make_unique<Mesh>(last->mesh);
  state.coil.series.field = last->sweep.field(drive->frequency);
  state.coil.region_loss = region_losses(last->mesh, state.coil.series.field);
  state.field = scaled(state.coil.series.field, state.current);
  state.unknowns = last->system.unknowns();
  state.error.power.assign(state.coil.region_loss.size(), 0.0);
  state.error.share = state.error.power;
  Run run;
  run.states.push_back(std::move(state));
  complete_run(design, run);
  sign(design, run.result);
  Accuracy& accuracy = run.result.states.front().accuracy;
  const std::int64_t unknowns = accuracy.unknowns;
  accuracy = {};
  accuracy.unknowns = unknowns;
  accuracy.method = "one model of the coil over the frequency band; no estimate";
  run.result.timing.solve = run.result.timing.total =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return std::move(run.result);
}

}  // namespace cw::cases
