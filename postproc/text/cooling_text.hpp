#pragma once

#include <string>

#include "solver/outcome/cooling_result.hpp"

namespace cw {

/// The section "Cooling" of the terminal summary, at most 80 columns.
std::string cooling_text(const CoolingResult& cooling);

}  // namespace cw
