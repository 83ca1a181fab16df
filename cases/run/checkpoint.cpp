#include "cases/run/checkpoint.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "cases/complaint.hpp"
#include "cases/read/fingerprint.hpp"
#include "cases/run/build_info.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/read_bytes.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_error.hpp"

namespace cw::cases {

namespace fs = std::filesystem;

namespace {

constexpr const char* kind = "coilwright heating 2";
constexpr std::size_t digits = 64;  ///< of a SHA-256

/// Everything on which the run depends, line by line; it must be the same when a checkpoint is
/// resumed.
std::string heading(const Case& subject, Effort effort) {
  std::string lines = fmt::format("{}\nprogram {}\naccuracy {}\ncase {}\n", kind, program_form(),
                                  static_cast<int>(effort), subject.sha256);
  for (const auto& [name, sha256] : subject.files)
    lines += fmt::format("file {} {}\n", sha256, name);
  return lines;
}

CaseError unusable(const fs::path& path, const std::string& found) {
  return CaseError(
      {fmt::format("{}: found {}; a heating run resumes only from its own file; remove this file, "
                   "or run without --resume, to start again",
                   path.string(), found)});
}

/// The line in which a heading differs, in words; empty: none.
std::string difference(const std::string& found, const std::string& wanted) {
  std::istringstream a(found), b(wanted);
  for (std::string has, wants; static_cast<bool>(std::getline(b, wants));) {
    std::getline(a, has);
    if (has == wants) continue;
    if (wants == kind) return "no heating run of this version";
    if (wants.starts_with("program")) return "a heating run of another build of the program";
    if (wants.starts_with("accuracy")) return "a heating run with another accuracy";
    if (wants.starts_with("case"))
      return "a heating run of another case, or of this one before it was edited";
    return fmt::format(
        "a heating run with {} before it was edited",
        wants.substr(std::min(wants.size(), std::string("file ").size() + digits + 1)));
  }
  return {};
}

}  // namespace

fs::path checkpoint_of(const fs::path& directory) {
  fs::path clean = directory.lexically_normal();
  if (!clean.has_filename()) clean = clean.parent_path();
  return clean.string() + ".heating";
}

void write_checkpoint(const fs::path& path, const Case& subject, Effort effort,
                      const HeatingState& state) {
  std::ostringstream stored;
  write_state(stored, state);
  const std::string bytes =
      fmt::format("{}{}\n{}", heading(subject, effort), sha256_hex(stored.view()), stored.view());
  if (path.has_parent_path()) fs::create_directories(path.parent_path());
  replace_file(path, bytes);
}

std::optional<HeatingState> read_checkpoint(const fs::path& path, const Case& subject,
                                            Effort effort) {
  const auto read = read_bytes(path);
  if (!read) return std::nullopt;
  const std::string& bytes = *read;
  const std::string wanted = heading(subject, effort);
  if (const std::string found = difference(bytes.substr(0, wanted.size()), wanted); !found.empty())
    throw unusable(path, found);
  if (bytes.size() < wanted.size() + digits + 1)
    throw unusable(path, "a heating run that ends early");
  std::istringstream stored(bytes.substr(wanted.size() + digits + 1));
  if (bytes.substr(wanted.size(), digits + 1) != sha256_hex(stored.view()) + '\n')
    throw unusable(path, "a heating run with damaged bytes");
  try {
    return read_state(stored);
  } catch (const std::runtime_error& error) {
    throw unusable(path, error.what());
  }
}

}  // namespace cw::cases
