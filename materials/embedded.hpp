#pragma once

#include <span>
#include <string_view>

namespace cw {

/// A library file that is compiled into the program, so that none can be missing.
struct EmbeddedFile {
  std::string_view name;  ///< "copper-tube"
  std::string_view text;  ///< the whole of materials/data/copper-tube.toml
};

/// All library files, sorted by name.
std::span<const EmbeddedFile> embedded_files();

}  // namespace cw
