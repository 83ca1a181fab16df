#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "cases/read/toml_tree.hpp"

namespace cw::cases {

/// Puts `value` (as it would stand in the file, without quotes) at the dotted key, making tables on
/// the way. List elements go by number, those with a `name` by that too. False when the key leads
/// through a value that is no table or list, or past the end of a list. `at`: where the value is to
/// be said to stand; empty: where the old one stood.
bool change_tree(Node& root, std::string_view key, std::string_view value,
                 std::optional<TextPlace> at = {});

/// The key with every list element by number, one way to write it for each place: "body.0.length"
/// for "body.sleeve.length".
std::string numbered(const Node& root, std::string_view key);

}  // namespace cw::cases
