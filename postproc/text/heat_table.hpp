#pragma once

#include <string>

#include "solver/outcome/heat_result.hpp"

namespace cw {

/// The heating run for the terminal: whether and when the target was reached, where it would stall,
/// and where the energy went.
std::string heat_table(const HeatResult& heat);

}  // namespace cw
