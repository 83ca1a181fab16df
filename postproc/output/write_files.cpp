#include "postproc/output/write_files.hpp"

#include <fmt/format.h>

#include <functional>

#include "postproc/chart/charts_of_result.hpp"
#include "postproc/making/coil_former.hpp"
#include "postproc/making/coil_outline.hpp"
#include "postproc/making/heater_netlist.hpp"
#include "postproc/output/among_processes.hpp"
#include "postproc/picture/canvas.hpp"
#include "postproc/picture/coil_drawing.hpp"
#include "postproc/picture/picture_values.hpp"
#include "postproc/picture/png.hpp"
#include "postproc/report/write_report.hpp"
#include "postproc/result/history_table.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"
#include "postproc/result/write_tables.hpp"
#include "postproc/viewer/viewer_script.hpp"
#include "postproc/viewer/write_solid.hpp"

namespace cw {

namespace fs = std::filesystem;

namespace {

/// Writes the surfaces of bodies and coil for one state.
void write_surfaces(const fs::path& folder, const ResultFiles& files, std::size_t state) {
  FieldView view = files.fields[state].view;
  view.name = files.fields[state].name;
  write_solid(folder / "solid.vtp", view);
  if (files.result.heater && state < files.result.states.size())
    write_coil(folder / "coil.vtp", files.result.heater->coil, files.result.states[state].coil);
}

using Tasks = std::vector<std::function<void()>>;

/// Appends the slow files to `tasks` instead of writing them.
void write_fields(const fs::path& folder, const ResultFiles& files, Tasks& tasks) {
  const std::vector<FieldOutput>& fields = files.fields;
  if (fields.empty()) return;
  fs::create_directory(folder);
  std::vector<TimeStep> steps;
  for (const auto& field : fields) {
    const std::string file = field.name + ".vtu";
    tasks.emplace_back([&field, path = folder / file] {
      FieldView view = field.view;
      view.name = field.name;
      write_vtu(path, view);
    });
    if (field.solid)
      tasks.emplace_back(
          [=, &files, state = steps.size()] { write_surfaces(folder, files, state); });
    steps.push_back({static_cast<double>(steps.size()), file, field.name});
  }
  write_file(folder / viewer_script_file, viewer_script());
  write_file(folder / "fields.pvd", field_collection(steps));
}

void write_moments(const fs::path& folder, const std::vector<MomentOutput>& moments, Tasks& tasks) {
  if (moments.empty()) return;
  fs::create_directories(folder);
  std::vector<TimeStep> steps;
  for (const auto& moment : moments) {
    const std::string file = fmt::format("heat-{:02}.vtu", steps.size() + 1);
    tasks.emplace_back([&moment, path = folder / file] { write_vtu(path, moment.view); });
    steps.push_back({moment.time, file, moment.view.name});
  }
  write_file(folder / "heat.pvd", field_collection(steps));
}

void write_picture(const fs::path& folder, const PictureOutput& picture) {
  constexpr double pixels_per_point = 2.0;
  const Canvas canvas = picture.draw(picture.input);
  write_file(folder / (picture.name + ".svg"), svg_of(canvas));
  write_file(folder / (picture.name + ".png"), png_of(raster_of(canvas, pixels_per_point)));
  if (picture.with_values)
    write_file(folder / (picture.name + ".json"), picture_values(picture.input));
}

/// The coil for the workshop: drawing with sizes, outline for machines, template at 1:1.
void write_coil_drawings(const fs::path& folder, const Result& result) {
  if (!result.heater || result.states.empty()) return;
  const std::vector<OutlinePiece> outline = coil_outline(result);
  write_file(folder / "coil.svg", svg_of(coil_drawing(result)));
  write_file(folder / "coil-template.svg", coil_template(outline, template_notes(result)));
  write_file(folder / "coil.dxf", coil_dxf(outline));
}

/// Further files for the maker: a former to wind the coil on, the heater as a circuit.
void write_making(const fs::path& folder, const Result& result) {
  if (!result.heater) return;
  const auto former = coil_former(result.heater->coil);
  const auto state = netlist_state(result);
  if (!former && !state) return;
  fs::create_directory(folder);
  if (former) write_file(folder / "former.stl", binary_stl(*former));
  if (state) write_file(folder / "heater.cir", heater_netlist(result, *state));
}

/// Every chart as a drawing and as its numbers.
void write_charts(const fs::path& folder, const Result& result) {
  for (const Chart& chart : charts_of(result)) {
    write_file(folder / "pictures" / ("chart-" + chart.id + ".svg"), svg_of(chart_drawing(chart)));
    write_file(folder / "tables" / ("chart-" + chart.id + ".csv"), chart_table(chart));
  }
}

}  // namespace

void write_result_directory(const fs::path& directory, const ResultFiles& files) {
  replace_result_directory(directory, [&](const fs::path& folder) {
    fs::create_directory(folder / "tables");
    write_file(folder / "tables" / "turns.csv", turns_table(files.result));
    write_file(folder / "tables" / "powers.csv", powers_table(files.result));
    if (files.result.heat)
      write_file(folder / "tables" / "history.csv", history_table(*files.result.heat));
    if (files.result.cooling && files.result.cooling->air)
      write_file(folder / "tables" / "tube.csv", tube_table(*files.result.cooling->air));
    if (files.result.exposure)
      write_file(folder / "tables" / "stray.csv", stray_table(*files.result.exposure));
    if (!files.remedy.empty()) write_file(folder / remedy_file, files.remedy);
    const fs::path pictures = folder / "pictures";
    fs::create_directory(pictures);
    Tasks tasks;
    for (const PictureOutput& picture : files.pictures)
      tasks.emplace_back([&] { write_picture(pictures, picture); });
    write_fields(folder / "fields", files, tasks);
    write_moments(folder / "fields", files.moments, tasks);
    tasks.emplace_back([&] { write_charts(folder, files.result); });
    tasks.emplace_back([&] { write_coil_drawings(pictures, files.result); });
    tasks.emplace_back([&] { write_making(folder / "making", files.result); });
    among_processes(tasks);
    write_file(folder / "result.json", result_json(files.result));
    write_report(folder);
  });
}

}  // namespace cw
