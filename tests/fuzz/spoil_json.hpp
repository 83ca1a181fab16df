#pragma once

#include <random>
#include <string>

namespace cw::fuzz {

/// JSON with one to three of its values removed, duplicated or replaced by others: still JSON, so
/// that it gets past the parser. Text that is not JSON is returned unchanged.
std::string spoil_json(const std::string& text, std::mt19937& engine);

}  // namespace cw::fuzz
