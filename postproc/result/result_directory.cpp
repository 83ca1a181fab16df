#include "postproc/result/result_directory.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include "postproc/result/write_error.hpp"
#include "postproc/result/write_result.hpp"

namespace cw {

namespace fs = std::filesystem;

namespace {

/// A directory that is gone when this goes, unless nothing of it is left.
class Scratch {
 public:
  explicit Scratch(fs::path path) : path_(std::move(path)) {}
  ~Scratch() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

/// The first line of every result.json says its format; the file itself may be long.
bool written_by_us(const fs::path& directory) {
  std::ifstream file(directory / "result.json");
  std::string start(200, '\0');
  file.read(start.data(), static_cast<std::streamsize>(start.size()));
  start.resize(static_cast<std::size_t>(file.gcount()));
  return start.find(fmt::format("\"format\": \"{}\"", result_format)) != std::string::npos;
}

/// Whether a result may contain this file, named relative to its directory.
bool ours(const fs::path& file) {
  constexpr std::array<std::string_view, 2> top = {"result.json", "report.html"};
  if (!file.has_parent_path()) return std::find(top.begin(), top.end(), file.string()) != top.end();
  const std::string folder = file.parent_path().string(), kind = file.extension().string();
  return (folder == "fields" && (kind == ".vtu" || kind == ".vtp" || kind == ".pvd")) ||
         (folder == "tables" && kind == ".csv") ||
         (folder == "pictures" &&
          (kind == ".svg" || kind == ".png" || kind == ".json" || kind == ".dxf"));
}

/// A file that would be lost; empty when there is none.
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
    throw WriteError(fmt::format("{}: is a file, and results need a directory; give another name.",
                                 directory.string()));
  }
  if (fs::is_empty(directory)) return;
  if (!written_by_us(directory)) {
    throw WriteError(fmt::format(
        "{}: exists and holds no earlier result (no result.json of format {}), so it is left "
        "alone; give another directory.",
        directory.string(), result_format));
  }
  const fs::path foreign = foreign_file(directory);
  if (!foreign.empty()) {
    throw WriteError(
        fmt::format("{}: holds {}, which is no part of a result and would be lost; move it or give "
                    "another directory.",
                    directory.string(), foreign.string()));
  }
}

/// What runs that were killed while they wrote have left beside `target`.
void remove_leftovers(const fs::path& target) {
  const std::string start = fmt::format(".{}.part-", target.filename().string());
  std::vector<fs::path> left;
  for (const auto& entry : fs::directory_iterator(target.parent_path())) {
    const std::string name = entry.path().filename().string();
    if (!name.starts_with(start)) continue;
    const int process = std::atoi(name.c_str() + start.size());
    if (process > 0 && kill(process, 0) != 0 && errno == ESRCH) left.push_back(entry.path());
  }
  for (const fs::path& path : left) fs::remove_all(path);
}

/// Puts `fresh` in the place of `directory`; what stood there is then at `fresh`.
void exchange(const fs::path& fresh, const fs::path& directory) {
  if (!fs::exists(directory)) {
    fs::rename(fresh, directory);
    return;
  }
  if (renameat2(AT_FDCWD, fresh.c_str(), AT_FDCWD, directory.c_str(), RENAME_EXCHANGE) == 0) return;
  if (errno != EINVAL && errno != ENOSYS)
    throw fs::filesystem_error("rename", directory, {errno, std::generic_category()});
  // Some network file systems cannot exchange: two steps, undone when the second fails.
  const fs::path aside = fresh.string() + ".old";
  fs::rename(directory, aside);
  std::error_code error;
  fs::rename(fresh, directory, error);
  fs::rename(aside, error ? directory : fresh);
  if (error) throw fs::filesystem_error("rename", directory, error);
}

}  // namespace

void write_file(const fs::path& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  if (!file)
    throw WriteError(fmt::format("{}: could not be written; is the disk full?", path.string()));
}

namespace {

/// A file that cannot be written is named by the place it was meant for.
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

}  // namespace

void replace_result_directory(const fs::path& directory,
                              const std::function<void(const fs::path&)>& fill) {
  try {
    // Through a symbolic link, and without the slash at the end that would hide the name.
    fs::path target = fs::weakly_canonical(fs::absolute(directory));
    if (!target.has_filename()) target = target.parent_path();
    require_replaceable(target);
    fs::create_directories(target.parent_path());
    const Scratch scratch(target.parent_path() /
                          fmt::format(".{}.part-{}", target.filename().string(), getpid()));
    remove_leftovers(target);
    fs::remove_all(scratch.path());
    fs::create_directory(scratch.path());
    fill_named(scratch.path(), directory, fill);
    exchange(scratch.path(), target);
  } catch (const fs::filesystem_error& e) {
    throw WriteError(fmt::format("{}: the results could not be written: {}.", directory.string(),
                                 e.code().message()));
  }
}

}  // namespace cw
