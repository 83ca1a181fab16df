#pragma once

#include <string>

#include "solver/outcome/heat_result.hpp"

namespace cw {

/// What somebody with an infrared thermometer would see at the end of the run, and why: how far the
/// surface really warmed, with how much of the energy, and how much of that the thermometer shows.
/// Empty without a thermometer in the case. Plain text.
std::string what_is_seen(const HeatResult& heat);

}  // namespace cw
