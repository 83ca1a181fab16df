#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "cases/read/toml_tree.hpp"

namespace cw::cases {

/// Sets the dotted key to `value` (as in the file, without quotes), creating tables on the way.
/// List elements are addressed by number, those with a `name` also by name. False if the key leads
/// through a value that is not a table or list, or past the end of a list. `at`: the place that
/// messages give for the value; empty: that of the old value.
bool change_tree(Node& root, std::string_view key, std::string_view value,
                 std::optional<TextPlace> at = {});

/// The key with every list element by number, which is unique for each place: "body.0.length" for
/// "body.sleeve.length".
std::string numbered(const Node& root, std::string_view key);

}  // namespace cw::cases
