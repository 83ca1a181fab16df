#include "cases/compare/metals.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "cases/check/findings.hpp"
#include "cases/read/read_case.hpp"
#include "materials/library.hpp"
#include "mesh/generate.hpp"
#include "postproc/picture/metals_chart.hpp"
#include "postproc/picture/png.hpp"
#include "postproc/report/metals_page.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"
#include "postproc/text/metals_table.hpp"
#include "postproc/viewer/write_vtu.hpp"
#include "solver/field/law_validity.hpp"
#include "solver/run/state_result.hpp"

namespace cw::cases {

namespace {

/// Limit of resistivity [ohm m]: graphite conducts better at 20 degC, clay-graphite and pressed
/// powder worse.
constexpr double least_metal = 20e-6;

bool is_metal(const Material& m) {
  return !m.insulator() && m.resistivity(Temperature::celsius(20.0)) < least_metal;
}

void require_usable(const Case& subject) {
  Findings findings{subject};
  if (!subject.workpiece)
    findings.error("workpiece",
                   "found none; the metals take its place: write [workpiece] with the material, "
                   "diameter and length of the part");
  if (!findings.errors.empty()) throw CaseError(as_lines(subject.file.string(), findings.errors));
}

/// The current at which all metals are compared: that of a current drive, otherwise the coil
/// current with the case's own metal, cold. Throws SolveError if the tank will not ring.
CurrentDrive common_current(const Case& subject, const Result& own) {
  if (const auto* drive = std::get_if<CurrentDrive>(&subject.drive)) return *drive;
  for (const StateResult& state : own.states)
    if (state.name == "cold" || state.name == "fixed_frequency")
      return {state.frequency, state.tank ? state.tank->current_rms : state.drive.current_rms};
  throw SolveError(
      "the tank does not oscillate with the cold work in it, so there is no coil current for the "
      "comparison; write [drive] with kind = \"current\", frequency = \"100 "
      "kHz\" and rms = \"100 A\"");
}

/// The library's metals, sorted by name, and the case's own if it comes from a file.
std::vector<Material> metals_for(const Case& subject) {
  std::vector<Material> metals;
  for (const std::string& name : material_names())
    if (Material m = find_material(name); is_metal(m)) metals.push_back(std::move(m));
  const Material& own = subject.workpiece->material;
  const bool known = std::any_of(metals.begin(), metals.end(),
                                 [&](const Material& m) { return m.name == own.name; });
  if (!known && is_metal(own)) metals.push_back(own);
  return metals;
}

/// The frequencies including the case's own, rising; one within 1e-6 of it is replaced.
std::vector<Frequency> with_own(std::vector<Frequency> all, Frequency own) {
  std::erase_if(all, [&](Frequency f) { return std::abs(f.hertz / own.hertz - 1) < 1e-6; });
  all.push_back(own);
  std::sort(all.begin(), all.end());
  return all;
}

/// The size to compare with a skin depth: the depth of metal below the surface.
void set_thickness(const Outline& outline, MetalComparison& comparison) {
  const auto [inside, outside, bottom, top] = extent_of(outline);
  comparison.size_name = inside > 0 ? "wall" : "radius";
  comparison.thickness = outside - inside;
  if (top - bottom >= comparison.thickness) return;
  comparison.size_name = "height";
  comparison.thickness = top - bottom;
}

MetalPoint point_of(const Case& subject, const SolvedState& state, const MetalComparison& all) {
  const StateResult r = state_result(subject, state);
  const double square = state.current * state.current;
  MetalPoint p;
  p.work = *r.power.workpiece / square;
  p.coil = r.power.coil / square;
  p.others = (r.power.total - *r.power.workpiece - r.power.coil) / square;
  p.skin_depth = *r.skin_depth;
  const Material& copper = subject.coil.conductor.material;
  const double sigma = copper.conductivity(state.temperature.coil);
  p.coil_surface =
      1 / (sigma *
           skin_depth(sigma, copper.initial_permeability(state.temperature.coil), state.frequency));
  p.work_error = r.accuracy.workpiece_power.value_or(0.0);
  p.coil_error = r.accuracy.coil_power.value_or(0.0);
  const double initial = subject.workpiece->material.initial_permeability(state.temperature.work);
  p.permeability = r.saturation ? r.saturation->relative_permeability : initial;
  if (r.saturation) {
    const LawValidity law = law_validity((all.size_name == "radius" ? 1.0 : 0.5) * all.thickness,
                                         p.skin_depth, p.permeability / initial);
    p.law_error = std::max(std::abs(law.lowest_error), std::abs(law.highest_error));
    p.law_valid = law.valid;
  }
  return p;
}

/// Solves the metals one after the other.
class Trials {
 public:
  Trials(const Case& subject, const CurrentDrive& drive, const MetalOptions& options,
         MetalStudy& study)
      : options_(options), study_(study), trial_(subject) {
    trial_.drive = drive;
    trial_.tank.reset();
    trial_.heat.reset();
  }

  void add(const Material& metal) {
    trial_.workpiece->material = metal;
    const Temperature t = trial_.workpiece->temperature;
    MetalCurve curve;
    curve.name = metal.name;
    curve.resistivity = metal.resistivity(t);
    curve.magnetic = metal.magnetisation && t < metal.magnetisation->curie;
    curve.weak_permeability = metal.initial_permeability(t);
    curve.lost_magnetism = metal.magnetisation && !curve.magnetic;
    curve.beyond_data = !metal.resistivity.covers(t);
    auto& comparison = study_.comparison;
    for (std::size_t k = 0; k < comparison.frequencies.size(); ++k) {
      SolvedState state = solve(metal.name, comparison.frequencies[k]);
      curve.points.push_back(point_of(trial_, state, comparison));
      if (k == comparison.at_case) study_.states.push_back(std::move(state));
    }
    comparison.metals.push_back(std::move(curve));
  }

  /// Sets the number of metals, for the progress.
  void expect(std::size_t metals) {
    total_ = static_cast<int>(metals * study_.comparison.frequencies.size());
  }

 private:
  SolvedState solve(const std::string& metal, Frequency f) {
    const std::string what = fmt::format("{}, {:.4g} kHz", metal, f.hertz / 1e3);
    if (options_.progress) options_.progress(done_++, total_, what);
    std::get<CurrentDrive>(trial_.drive).frequency = f;
    Spent spent;
    try {
      SolvedState state =
          std::move(solve_states(trial_, options_.effort, spent, study_.result.warnings).front());
      study_.result.timing.mesh += spent.mesh;
      study_.result.timing.solve += spent.solve;
      return state;
    } catch (const SolveError& error) {
      throw SolveError(fmt::format("{}: {}", what, error.what()));
    } catch (const MeshError& error) {
      throw MeshError(fmt::format("{}: {}", what, error.what()));
    }
  }

  const MetalOptions& options_;
  MetalStudy& study_;
  Case trial_;
  int done_ = 0, total_ = 0;
};

/// Best efficiency at the case's frequency first; states in the same order.
void sort_by_efficiency(MetalStudy& study) {
  auto& all = study.comparison;
  std::vector<std::size_t> order(all.metals.size());
  for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return at_case(all, all.metals[a]).efficiency() > at_case(all, all.metals[b]).efficiency();
  });
  std::vector<MetalCurve> metals;
  std::vector<SolvedState> states;
  for (const std::size_t k : order) {
    metals.push_back(std::move(all.metals[k]));
    states.push_back(std::move(study.states[k]));
  }
  all.metals = std::move(metals);
  study.states = std::move(states);
}

void add_sources(const std::vector<Material>& metals, std::vector<SourceNote>& notes) {
  std::set<std::string> said;
  for (const SourceNote& note : notes) said.insert(note.of);
  for (const Material& m : metals) {
    if (said.contains(m.name + ": resistivity")) continue;
    for (const Source& s : m.resistivity.sources)
      notes.push_back({m.name + ": resistivity", s.text, s.provenance});
    if (!m.magnetisation) continue;
    const Source& s = m.magnetisation->saturation.source;
    notes.push_back({m.name + ": magnetisation", s.text, s.provenance});
  }
}

}  // namespace

std::vector<Frequency> metal_frequencies() {
  std::vector<Frequency> all;
  for (int k = 0; k <= 24; ++k) all.push_back({1e3 * std::pow(10.0, k / 8.0)});
  return all;
}

MetalStudy compare_metals(const Case& subject, const MetalOptions& options) {
  require_usable(subject);
  MetalStudy study;
  study.result = run_case(subject, options.effort).result;
  const CurrentDrive drive = common_current(subject, study.result);
  MetalComparison& all = study.comparison;
  all.title = subject.title;
  all.own = subject.workpiece->material.name;
  all.temperature = subject.workpiece->temperature;
  all.current = drive.rms;
  set_thickness(subject.workpiece->outline, all);
  all.frequencies = with_own(options.frequencies, drive.frequency);
  all.at_case = static_cast<std::size_t>(
      std::find(all.frequencies.begin(), all.frequencies.end(), drive.frequency) -
      all.frequencies.begin());
  const std::vector<Material> metals = metals_for(subject);
  Trials trials(subject, drive, options, study);
  trials.expect(metals.size());
  for (const Material& metal : metals) trials.add(metal);
  add_sources(metals, study.result.sources);
  sort_by_efficiency(study);
  return study;
}

void write_metals(const MetalStudy& study, const std::filesystem::path& directory) {
  replace_result_directory(directory, [&](const std::filesystem::path& folder) {
    for (const char* sub : {"tables", "pictures", "fields"})
      std::filesystem::create_directory(folder / sub);
    write_file(folder / "tables" / "metals.csv", metals_table(study.comparison));
    write_file(folder / "tables" / "reasons.csv", reasons_table(study.comparison));
    const Canvas chart = metals_chart(study.comparison);
    constexpr double pixels_per_point = 2.0;
    write_file(folder / "pictures" / "metals.svg", svg_of(chart));
    write_file(folder / "pictures" / "metals.png", png_of(raster_of(chart, pixels_per_point)));
    for (std::size_t k = 0; k < study.states.size(); ++k) {
      const SolvedState& state = study.states[k];
      write_vtu(folder / "fields" / (study.comparison.metals[k].name + ".vtu"),
                {*state.mesh, state.field, state.model.info});
    }
    write_file(folder / "report.html", metals_page(study.comparison, study.result));
    // Last: a directory with result.json is complete.
    write_file(folder / "result.json", result_json(study.result));
  });
}

}  // namespace cw::cases
