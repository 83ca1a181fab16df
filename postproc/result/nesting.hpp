#pragma once

#include <cstddef>
#include <string_view>

namespace cw {

/// Deepest nesting of lists and objects in a text of JSON, 0 for a bare value. What is nested
/// deeper than our own files (8) is not handed to code that calls itself for every level.
std::size_t json_nesting(std::string_view text);

inline constexpr std::size_t deepest_json = 64;

}  // namespace cw
