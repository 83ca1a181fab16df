#pragma once

#include <random>
#include <string>

namespace cw::fuzz {

/// JSON with one to three of its values taken away, doubled or put in the place of others: still
/// JSON, so that what lies behind the parser is reached. What is no JSON comes back as it is.
std::string spoil_json(const std::string& text, std::mt19937& engine);

}  // namespace cw::fuzz
