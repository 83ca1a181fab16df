#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace cw {

/// The bytes of a regular file, or of the target of a link; nothing if there is none. A pipe or a
/// device in a foreign folder is not opened: it could block the reader for ever.
std::optional<std::string> read_bytes(const std::filesystem::path& file);

}  // namespace cw
