#pragma once

#include <string>

#include "solver/outcome/heat_result.hpp"

namespace cw {

/// What an infrared thermometer would show at the end of the run, and why: the true rise of the
/// surface, the share of the energy, and how much of the rise the thermometer shows. Empty if the
/// case has no thermometer. Plain text.
std::string what_is_seen(const HeatResult& heat);

}  // namespace cw
