#pragma once

#include <string>
#include <vector>

#include "cases/read/toml_tree.hpp"

namespace cw::cases {

/// The value of a key in the form of a case file, texts in quotes.
struct WrittenValue {
  std::string section, key, value;
};

/// What changes with a value that is pulled or typed, so that the case keeps its sense. Another
/// number of cans of one kind is a bank of another capacitance. The stretch that is to be heated
/// moves with the work.
std::vector<WrittenValue> linked_values(const Node& root, const std::string& key,
                                        const std::string& value);

}  // namespace cw::cases
