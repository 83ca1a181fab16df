#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace cw {

/// The bytes of a regular file, or of what a link leads to; nothing where there is none to read. A
/// pipe or a device in a folder from elsewhere is not opened: it would keep the reader for ever.
std::optional<std::string> read_bytes(const std::filesystem::path& file);

}  // namespace cw
