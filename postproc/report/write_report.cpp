#include "postproc/report/write_report.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "postproc/report/own_drawing.hpp"
#include "postproc/report/report.hpp"
#include "postproc/result/history_table.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/nesting.hpp"
#include "postproc/result/read_bytes.hpp"
#include "postproc/result/read_result.hpp"

namespace cw {

namespace fs = std::filesystem;

namespace {

std::string text_of(const fs::path& path) {
  auto text = read_bytes(path);
  if (!text)
    throw ResultFileError(
        fmt::format("{}: cannot be read, or is no file; run the case again.", path.string()));
  return std::move(*text);
}

/// Index of a picture's state among the states of the result; pictures without a state come last.
std::size_t picture_rank(const std::string& picture, const Result& result) {
  for (std::size_t i = 0; i < result.states.size(); ++i)
    if (picture.ends_with("-" + result.states[i].name)) return i;
  return result.states.size();
}

/// The moment of a picture, from its samples; refuses a damaged file.
std::string moment_of(const std::string& values, const fs::path& path) {
  const auto json = json_nesting(values) > deepest_json
                        ? nlohmann::json()
                        : nlohmann::json::parse(values, nullptr, false);
  if (!json.is_object())
    throw ResultFileError(
        fmt::format("{}: not readable as JSON; run the case again.", path.string()));
  const auto moment = json.find("moment");
  return moment != json.end() && moment->is_string() ? moment->get<std::string>() : "";
}

/// Whether the page includes this picture: not charts and the coil's drawing, which are made from
/// the result, nor the template, which is for paper.
bool picture_shown(const std::string& picture) {
  return !picture.starts_with("chart-") && !picture.starts_with("coil");
}

/// The drawings in the order of the states, whatever their order in the folder.
std::vector<ReportPicture> pictures_of(const fs::path& folder, const Result& result) {
  std::vector<ReportPicture> pictures;
  if (!fs::is_directory(folder)) return pictures;
  for (const auto& entry : fs::directory_iterator(folder)) {
    const fs::path& path = entry.path();
    if (path.extension() != ".svg" || !picture_shown(path.stem().string())) continue;
    pictures.push_back({path.stem().string(), text_of(path)});
    if (const std::string foreign = foreign_in_drawing(pictures.back().svg); !foreign.empty())
      throw ResultFileError(foreign_drawing(path, foreign, "run the case again"));
    const fs::path values = fs::path(path).replace_extension(".json");
    if (!fs::exists(values)) continue;
    pictures.back().values = text_of(values);
    pictures.back().moment = moment_of(pictures.back().values, values);
  }
  std::sort(pictures.begin(), pictures.end(), [&](const auto& a, const auto& b) {
    return std::pair(picture_rank(a.name, result), a.name) <
           std::pair(picture_rank(b.name, result), b.name);
  });
  return pictures;
}

}  // namespace

void write_report(const fs::path& directory) {
  Result result = read_result_directory(directory);
  if (result.heat) {
    const fs::path history = directory / result.heat->history;
    if (fs::exists(history)) result.heat->lines = read_history(text_of(history), history.string());
  }
  replace_file(directory / "report.html",
               report_page(result, pictures_of(directory / "pictures", result)));
}

}  // namespace cw
