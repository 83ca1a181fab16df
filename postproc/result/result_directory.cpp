#include "postproc/result/result_directory.hpp"

#include <fmt/core.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <fstream>
#include <string>
#include <string_view>

#include "postproc/result/in_place.hpp"
#include "postproc/result/write_error.hpp"
#include "postproc/result/write_result.hpp"

namespace cw {

namespace fs = std::filesystem;

namespace {

/// The first line of every result.json holds its format; the file itself may be long.
bool written_by_us(const fs::path& directory) {
  std::error_code error;
  if (!fs::is_regular_file(directory / "result.json", error)) return false;  // a pipe would block
  std::ifstream file(directory / "result.json");
  std::string start(200, '\0');
  file.read(start.data(), static_cast<std::streamsize>(start.size()));
  start.resize(static_cast<std::size_t>(file.gcount()));
  // This version or an earlier one.
  const std::string_view family =
      std::string_view(result_format).substr(0, std::string_view(result_format).rfind('-') + 1);
  return start.find(fmt::format("\"format\": \"{}", family)) != std::string::npos;
}

/// Whether a result may contain this file, named relative to its directory.
bool ours(const fs::path& file) {
  constexpr std::array<std::string_view, 6> top = {"result.json",         "report.html",
                                                   remedy_file,           "quickest.toml",
                                                   "coolest-supply.toml", "least-copper.toml"};
  if (Fresh::left_over(file.filename().string())) return true;
  if (!file.has_parent_path()) return std::find(top.begin(), top.end(), file.string()) != top.end();
  const std::string folder = file.parent_path().string(), kind = file.extension().string();
  return (folder == "fields" && (kind == ".vtu" || kind == ".vtp" || kind == ".pvd" ||
                                 file.filename() == viewer_script_file)) ||
         (folder == "tables" && kind == ".csv") ||
         (folder == "making" && (kind == ".stl" || kind == ".cir")) ||
         (folder == "pictures" &&
          (kind == ".svg" || kind == ".png" || kind == ".json" || kind == ".dxf"));
}

/// A file that would be lost; empty if there is none.
fs::path foreign_file(const fs::path& directory) {
  for (const auto& entry : fs::recursive_directory_iterator(directory)) {
    fs::path name = entry.path().lexically_relative(directory);
    if (!entry.is_directory() && !ours(name)) return name;
  }
  return {};
}

void require_replaceable(const fs::path& directory) {
  if (!fs::exists(fs::symlink_status(directory))) return;
  if (!fs::is_directory(directory)) {
    throw WriteError(
        fmt::format("{}: is a file, and results need a directory; give another name with --out",
                    directory.string()));
  }
  if (fs::is_empty(directory)) return;
  if (!written_by_us(directory)) {
    throw WriteError(fmt::format(
        "{}: exists and holds no earlier result (no result.json of format {}), so it is left "
        "alone; give another directory with --out",
        directory.string(), result_format));
  }
  const fs::path foreign = foreign_file(directory);
  if (!foreign.empty()) {
    throw WriteError(
        fmt::format("{}: holds {}, which is no part of a result and would be lost; move it or give "
                    "another directory with --out",
                    directory.string(), foreign.string()));
  }
}

/// Names a file that cannot be written by its final place.
void fill_named(const fs::path& scratch, const fs::path& directory,
                const std::function<void(const fs::path&)>& fill) {
  try {
    fill(scratch);
  } catch (const WriteError& error) {
    std::string words = error.what();
    if (const auto at = words.find(scratch.string()); at != std::string::npos)
      words.replace(at, scratch.string().size(), directory.string());
    throw WriteError(words);
  }
}

/// Follows a symbolic link, and removes the slash at the end that would hide the name.
fs::path target_of(const fs::path& directory) {
  const fs::path target = fs::weakly_canonical(fs::absolute(directory));
  return target.has_filename() ? target : target.parent_path();
}

WriteError unwritable(const fs::path& directory, const std::error_code& why) {
  return WriteError(
      fmt::format("{}: the results could not be written: {}; give another directory with --out",
                  directory.string(), why.message()));
}

}  // namespace

void require_result_directory(const fs::path& directory) {
  try {
    const fs::path target = target_of(directory);
    require_replaceable(target);
    fs::path there = target.parent_path();
    while (!fs::exists(there)) there = there.parent_path();
    if (::access(there.c_str(), W_OK | X_OK) != 0)
      throw unwritable(directory, {errno, std::generic_category()});
  } catch (const fs::filesystem_error& error) {
    throw unwritable(directory, error.code());
  }
}

void replace_result_directory(const fs::path& directory,
                              const std::function<void(const fs::path&)>& fill) {
  try {
    const fs::path target = target_of(directory);
    require_replaceable(target);
    fs::create_directories(target.parent_path());
    Fresh fresh(target, Fresh::Kind::directory);
    fill_named(fresh.path(), directory, fill);
    fresh.put();
  } catch (const fs::filesystem_error& error) {
    throw unwritable(directory, error.code());
  }
}

}  // namespace cw
