#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cases/run/picture_words.hpp"
#include "cases/run/remedied_case.hpp"
#include "cases/run/run_case.hpp"
#include "materials/figures.hpp"
#include "postproc/output/write_files.hpp"
#include "postproc/picture/solid_picture.hpp"
#include "postproc/picture/stray_picture.hpp"
#include "postproc/result/leading_state.hpp"
#include "solver/run/heating_result.hpp"

namespace cw::cases {

namespace {

/// Temperatures and heat of the snapshots; must outlive the files that refer to them.
std::vector<LocalHeat> heats_of(const Run& run) {
  std::vector<LocalHeat> heats;
  for (const HeatingSnapshot& shot : run.snapshots) heats.push_back(local_heat(*run.heating, shot));
  return heats;
}

/// Indices of the moments to draw: six at most, the first and the last among them.
std::vector<std::size_t> drawn_moments(std::size_t count) {
  constexpr std::size_t most = 6;
  std::vector<std::size_t> drawn;
  for (std::size_t k = 0; k < std::min(most, count); ++k)
    drawn.push_back(count <= most ? k : k * (count - 1) / (most - 1));
  return drawn;
}

double hottest_place(const Mesh& mesh, const LocalHeat& heat) {
  double top = 0.0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    if (mesh.region[t] > 0)
      for (const double kelvin : heat.kelvin[t]) top = std::max(top, kelvin);
  return top;
}

/// Target and ends of magnetism, if they occur.
std::vector<Isotherm> isotherms_of(const Case& subject) {
  std::vector<Isotherm> all;
  if (subject.heat && subject.heat->target)
    all.push_back({"target", subject.heat->target->in_celsius(), target_body(subject)});
  const auto add_curie = [&](const Material& material, const std::string& region) {
    if (material.magnetisation)
      all.push_back({"Curie point", material.magnetisation->curie.in_celsius(), region, true});
  };
  if (subject.workpiece) add_curie(subject.workpiece->material, "workpiece");
  for (const Body& body : subject.bodies) add_curie(body.material, body.name);
  return all;
}

void add_moments(const Run& run, const Case& subject, const std::vector<LocalHeat>& heats,
                 ResultFiles& files) {
  if (heats.empty()) return;
  const Mesh& mesh = run.heating->mesh();
  for (std::size_t i = 0; i < heats.size(); ++i)
    files.moments.push_back({run.snapshots[i].time,
                             {mesh, run.snapshots[i].field, run.heating->field().info, &heats[i],
                              fmt::format("after {} s", figure(run.snapshots[i].time))}});
  double top = 0.0;
  for (const LocalHeat& heat : heats) top = std::max(top, hottest_place(mesh, heat));
  constexpr double grain = 100.0;  // [K]
  for (const std::size_t i : drawn_moments(heats.size())) {
    const HeatingSnapshot& shot = run.snapshots[i];
    PictureInput input{mesh, shot.field, run.result.title, shot.current};
    input.labels = picture_labels(subject);
    input.dimensions = picture_dimensions(subject, true);
    input.heat = &heats[i];
    input.left = Shown::temperature;
    input.isotherms = isotherms_of(subject);
    input.celsius_top = grain * std::ceil((top - zero_celsius) / grain);
    input.moment = fmt::format("after {} s", figure(shot.time));
    files.pictures.push_back({fmt::format("heat-{:02}", i + 1), std::move(input)});
  }
}

}  // namespace

void write_run(const Run& run, const Case& subject, const std::filesystem::path& directory) {
  ResultFiles files{run.result, {}, {}, {}};
  if (!run.result.remedies.empty())
    files.remedy = remedied_case(subject, run.result.remedies.front(), directory);
  for (std::size_t i = 0; i < run.states.size(); ++i) {
    const SolvedState& state = run.states[i];
    // Only for the leading state: the close view of the copper and the stray field.
    const bool leading = &run.result.states[i] == leading_state(run.result);
    files.fields.push_back({state.name, {*state.mesh, state.field, state.model.info}, leading});
    const std::string ending = run.states.size() == 1 ? "" : "-" + state.name;
    const PictureInput whole{*state.mesh,
                             state.field,
                             run.result.title,
                             run.result.states[i].drive.current_rms,
                             0.0,
                             "work coil",
                             picture_labels(subject),
                             picture_dimensions(subject, state.mesh->find_region("workpiece") > 0)};
    files.pictures.push_back({"field" + ending, whole});
    if (!leading) continue;
    PictureInput close = whole;
    close.dimensions = picture_dimensions(subject, false);
    close.left = Shown::current_density;
    close.coil_only = true;
    files.pictures.push_back({"current" + ending, close, field_picture, false});
    files.pictures.push_back({"stray" + ending, whole, stray_picture, false});
    files.pictures.push_back({"solid" + ending, whole, solid_picture, false});
  }
  const std::vector<LocalHeat> heats = heats_of(run);
  add_moments(run, subject, heats, files);
  write_result_directory(directory, files);
}

}  // namespace cw::cases
