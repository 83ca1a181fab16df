#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// Several states side by side for a terminal, one column each, at most 80 columns wide (five
/// states).
std::string state_table(const Result& result);

/// Which states the heating never comes to, in a sentence; empty where it comes to all.
std::string states_not_met(const Result& result);

}  // namespace cw
