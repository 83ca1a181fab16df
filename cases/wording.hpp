#pragma once

#include <string>

#include "materials/units.hpp"

namespace cw::cases {

/// An SI value for messages, four figures, with a prefix: 0.032 m -> "32 mm", 2e-6 F -> "2 uF",
/// 1093.15 K -> "820 degC".
std::string in_words(double si, Dimension dimension);

}  // namespace cw::cases
