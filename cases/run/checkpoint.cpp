#include "cases/run/checkpoint.hpp"

#include <fmt/format.h>

#include <fstream>
#include <sstream>

#include "cases/read/read_case.hpp"
#include "cases/run/build_info.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_error.hpp"

namespace cw::cases {

namespace fs = std::filesystem;

namespace {

/// What a checkpoint must share with the run that takes it up.
std::string heading(const Case& subject, Effort effort) {
  return fmt::format("coilwright heating {} {} accuracy {}\n", build_info().version, subject.sha256,
                     static_cast<int>(effort));
}

CaseError unusable(const fs::path& path, const std::string& found) {
  return CaseError({fmt::format(
      "{}: found {}; allowed: what this case left at this accuracy; remove the file, or run "
      "without --resume",
      path.string(), found)});
}

}  // namespace

fs::path checkpoint_of(const fs::path& directory) {
  fs::path clean = directory.lexically_normal();
  if (!clean.has_filename()) clean = clean.parent_path();
  return clean.string() + ".heating";
}

void write_checkpoint(const fs::path& path, const Case& subject, Effort effort,
                      const HeatingState& state) {
  std::ostringstream bytes;
  bytes << heading(subject, effort);
  write_state(bytes, state);
  const fs::path part = path.string() + ".part";
  if (path.has_parent_path()) fs::create_directories(path.parent_path());
  write_file(part, bytes.str());
  std::error_code error;
  fs::rename(part, path, error);
  if (error) throw WriteError(fmt::format("{}: {}", path.string(), error.message()));
}

std::optional<HeatingState> read_checkpoint(const fs::path& path, const Case& subject,
                                            Effort effort) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return std::nullopt;
  std::string line;
  std::getline(file, line);
  if (line + '\n' != heading(subject, effort))
    throw unusable(path, "a heating run of another case, accuracy or program");
  try {
    return read_state(file);
  } catch (const std::runtime_error& error) {
    throw unusable(path, error.what());
  }
}

}  // namespace cw::cases
