#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "cases/read/toml_tree.hpp"

namespace cw::cases {

/// The bytes of a case file, or why they cannot be had: in `complaint`, without the file's name.
struct FileText {
  std::string bytes;
  std::string complaint;
};

/// Reads a regular file, or a stream the caller has opened (/dev/stdin), of at most 1 MB.
FileText read_file(const std::filesystem::path& file);

/// Place of the first byte that is not UTF-8 or is a NUL, if there is one.
std::optional<TextPlace> not_text(std::string_view bytes);

/// The tree of a file, `what` in messages. Throws CaseError for what is no text or no TOML.
Node parse_file(std::string_view text, const std::filesystem::path& file, const char* what);

}  // namespace cw::cases
