#pragma once

#include <cstddef>
#include <string_view>

namespace cw {

/// Deepest nesting of lists and objects in a text of JSON, 0 for a bare value. Text nested deeper
/// than our own files (8) is not passed to recursive code.
std::size_t json_nesting(std::string_view text);

inline constexpr std::size_t deepest_json = 64;

}  // namespace cw
