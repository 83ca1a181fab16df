#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "cases/read/toml_tree.hpp"

namespace cw::cases {

/// The bytes of a case file, or in `complaint` why they cannot be read, without the file's name.
struct FileText {
  std::string bytes;
  std::string complaint;
};

/// Reads a regular file, or a stream that the caller has opened (/dev/stdin), of at most 1 MB.
FileText read_file(const std::filesystem::path& file);

/// Place of the first byte that is not UTF-8 or is a NUL, if there is one.
std::optional<TextPlace> not_text(std::string_view bytes);

/// The tree of a file; `what` it is, for messages. Throws CaseError if it is not text or not TOML.
Node parse_file(std::string_view text, const std::filesystem::path& file, const char* what);

}  // namespace cw::cases
