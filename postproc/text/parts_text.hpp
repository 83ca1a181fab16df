#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// Sections of the terminal summary, 80 columns: the parts to wind, mount and cool, and what the
/// meters should show. Empty where the case gives no data of them.
std::string parts_text(const PartsResult& parts);
std::string commissioning_text(const CommissioningResult& commissioning);

}  // namespace cw
