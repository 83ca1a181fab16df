#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// Several states side by side for a terminal, one column each, at most 80 columns wide (five
/// states).
std::string state_table(const Result& result);

}  // namespace cw
