#include <fmt/format.h>

#include <algorithm>

#include "cases/run/run_case.hpp"
#include "cases/winding.hpp"
#include "postproc/picture/stray_picture.hpp"
#include "postproc/result/write_files.hpp"

namespace cw::cases {

namespace {

std::map<std::string, std::string> labels_of(const Case& subject) {
  std::map<std::string, std::string> labels;
  if (subject.workpiece)
    labels["workpiece"] = fmt::format("workpiece, {}", subject.workpiece->material.name);
  for (const Body& body : subject.bodies)
    labels[body.name] = fmt::format("{}, {}", body.name, body.material.name);
  return labels;
}

std::vector<Dimension> dimensions_of(const Case& subject, bool with_work) {
  std::vector<Dimension> dimensions;
  const auto places = ring_places(subject.coil);
  double low = 1e300, high = -1e300, inside = 1e300;
  for (const RingPlace& p : places) {
    low = std::min(low, p.z - subject.coil.conductor.axial_size() / 2);
    high = std::max(high, p.z + subject.coil.conductor.axial_size() / 2);
    inside = std::min(inside, p.r - subject.coil.conductor.radial_size() / 2);
  }
  dimensions.push_back({Dimension::Kind::diameter, "bore", 0, inside, low});
  dimensions.push_back(
      {Dimension::Kind::length, "coil", low, high, inside + subject.coil.conductor.radial_size()});
  if (!with_work) return dimensions;
  double bottom = 1e300, top = -1e300, wide = 0;
  for (const Corner& c : subject.workpiece->outline.profile) {
    bottom = std::min(bottom, c.z);
    top = std::max(top, c.z);
    wide = std::max(wide, c.r);
  }
  dimensions.push_back({Dimension::Kind::diameter, "workpiece", 0, wide, top});
  dimensions.push_back({Dimension::Kind::length, "workpiece", bottom, top, wide});
  return dimensions;
}

/// The state with the greatest power: of it the close look at the copper and the far look around.
std::size_t leading(const Run& run) {
  const auto& states = run.result.states;
  const auto most = std::max_element(
      states.begin(), states.end(),
      [](const StateResult& a, const StateResult& b) { return a.power.total < b.power.total; });
  return static_cast<std::size_t>(most - states.begin());
}

}  // namespace

void write_run(const Run& run, const Case& subject, const std::filesystem::path& directory) {
  ResultFiles files{run.result, {}, {}};
  for (std::size_t i = 0; i < run.states.size(); ++i) {
    const SolvedState& state = run.states[i];
    files.fields.push_back(
        {state.name, {*state.mesh, state.field, state.model.info}, i == leading(run)});
    const std::string ending = run.states.size() == 1 ? "" : "-" + state.name;
    const PictureInput whole{*state.mesh,
                             state.field,
                             run.result.title,
                             run.result.states[i].drive.current_rms,
                             0.0,
                             "work coil",
                             labels_of(subject),
                             dimensions_of(subject, state.mesh->find_region("workpiece") > 0)};
    files.pictures.push_back({"field" + ending, whole});
    if (i != leading(run)) continue;
    PictureInput close = whole;
    close.dimensions = dimensions_of(subject, false);
    close.left = Shown::current_density;
    close.coil_only = true;
    files.pictures.push_back({"current" + ending, close, field_picture, false});
    files.pictures.push_back({"stray" + ending, whole, stray_picture, false});
  }
  write_result_directory(directory, files);
}

}  // namespace cw::cases
