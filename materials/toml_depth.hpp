#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace cw {

/// Where a text of TOML is nested too deeply, and what was found and is allowed, in words.
struct TooDeep {
  int line, column;
  std::string text;
};

/// The first place in a text of TOML where a key has more parts, or where lists and tables lie
/// deeper in each other, than code that calls itself for every level can be given. Our files need
/// four of either. Looks at brackets, dots and quotes only: whether the rest is TOML, the parser
/// says.
std::optional<TooDeep> too_deep(std::string_view toml);

inline constexpr int deepest_toml = 16;

}  // namespace cw
