#pragma once

#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include "cases/case.hpp"
#include "cases/complaint.hpp"

namespace cw::cases {

/// A value that replaces the one in the file: key "coil.pitch" (a body by number or name:
/// "body.cup.length"), value as in the file, without quotes: "7.5 mm", "8".
struct Change {
  std::string key, value;
};

/// A case file in memory.
struct CaseText {
  std::filesystem::path file;
  std::string text;
  std::vector<Change> set = {};  ///< from the command line, replace the file's values
};

/// The bytes of a case file, `-` for standard input; a stream can be read only once. Throws
/// CaseError.
std::string case_bytes(const std::filesystem::path& file);

/// Reads a case file: TOML, UTF-8, at most 1 MB. Throws CaseError with every mistake in it. Does
/// not check whether the case is physically sensible: see check_case().
Case read_case(const std::filesystem::path& file);

/// The same with some values changed, as a sweep does.
Case read_case(const std::filesystem::path& file, std::span<const Change> changes);

/// The same for text that is not in a file; `file` is the name in messages and the base of material
/// paths.
Case read_case_text(std::string_view text, const std::filesystem::path& file,
                    std::span<const Change> changes = {});

/// The same with values set on the command line: they are part of the case, its title and its
/// SHA-256; mistakes in them refer to the command line.
Case read_set_case(std::string_view text, const std::filesystem::path& file,
                   std::span<const Change> set, std::span<const Change> changes = {});

}  // namespace cw::cases

namespace cw {
using cases::Change;
using cases::read_case;
using cases::read_case_text;
}  // namespace cw
