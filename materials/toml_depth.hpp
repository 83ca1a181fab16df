#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace cw {

/// The place at which a text of TOML is nested too deeply, and what was found and is allowed, in
/// words.
struct TooDeep {
  int line, column;
  std::string text;
};

/// The first place in a text of TOML where a key has more parts, or lists and tables are nested
/// deeper, than recursive code can handle. Our files need four of either. Looks only at brackets,
/// dots and quotes; the parser judges the rest.
std::optional<TooDeep> too_deep(std::string_view toml);

inline constexpr int deepest_toml = 16;

}  // namespace cw
