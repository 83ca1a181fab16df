#include "postproc/result/write_files.hpp"

#include <fmt/format.h>

#include "postproc/picture/canvas.hpp"
#include "postproc/picture/heat_charts.hpp"
#include "postproc/picture/png.hpp"
#include "postproc/report/report.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"
#include "postproc/result/write_tables.hpp"

namespace cw {

namespace fs = std::filesystem;

namespace {

void write_fields(const fs::path& folder, const std::vector<FieldOutput>& fields) {
  if (fields.empty()) return;
  fs::create_directory(folder);
  std::vector<TimeStep> steps;
  for (const auto& field : fields) {
    const std::string file = field.name + ".vtu";
    write_vtu(folder / file, field.view);
    steps.push_back({static_cast<double>(steps.size()), file});
  }
  write_file(folder / "fields.pvd", field_collection(steps));
}

void write_moments(const fs::path& folder, const std::vector<MomentOutput>& moments) {
  if (moments.empty()) return;
  fs::create_directories(folder);
  std::vector<TimeStep> steps;
  for (const auto& moment : moments) {
    const std::string file = fmt::format("heat-{:02}.vtu", steps.size() + 1);
    write_vtu(folder / file, moment.view);
    steps.push_back({moment.time, file});
  }
  write_file(folder / "heat.pvd", field_collection(steps));
}

constexpr double pixels_per_point = 2.0;

void write_charts(const fs::path& folder, const ResultFiles& files) {
  if (!files.result.heat) return;
  fs::create_directories(folder);
  for (const NamedChart& chart :
       heat_charts(files.result.title, *files.result.heat, files.supply_limit)) {
    write_file(folder / (chart.name + ".svg"), svg_of(chart.canvas));
    write_file(folder / (chart.name + ".png"), png_of(raster_of(chart.canvas, pixels_per_point)));
  }
}

/// Writes the pictures and returns them for the page.
std::vector<ReportPicture> write_pictures(const fs::path& folder,
                                          const std::vector<PictureOutput>& pictures) {
  std::vector<ReportPicture> drawn;
  if (pictures.empty()) return drawn;
  fs::create_directory(folder);
  for (const auto& picture : pictures) {
    const Canvas canvas = field_picture(picture.input);
    drawn.push_back({picture.name, svg_of(canvas), picture.input.dimensions});
    write_file(folder / (picture.name + ".svg"), drawn.back().svg);
    write_file(folder / (picture.name + ".png"), png_of(raster_of(canvas, pixels_per_point)));
  }
  return drawn;
}

}  // namespace

void write_result_directory(const fs::path& directory, const ResultFiles& files) {
  replace_result_directory(directory, [&](const fs::path& folder) {
    fs::create_directory(folder / "tables");
    write_file(folder / "tables" / "turns.csv", turns_table(files.result));
    write_file(folder / "tables" / "powers.csv", powers_table(files.result));
    if (files.result.heat)
      write_file(folder / "tables" / "history.csv", history_table(*files.result.heat));
    write_fields(folder / "fields", files.fields);
    write_moments(folder / "fields", files.moments);
    const auto pictures = write_pictures(folder / "pictures", files.pictures);
    write_charts(folder / "pictures", files);
    write_file(folder / "report.html", report_page(files.result, pictures));
    // Last: a directory with result.json is complete.
    write_file(folder / "result.json", result_json(files.result));
  });
}

}  // namespace cw
