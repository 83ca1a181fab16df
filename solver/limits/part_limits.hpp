#pragma once

#include <vector>

#include "solver/heater/heater.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Rows for the parts round the coil: ratings from data sheets if given, soft solder always.
std::vector<LimitResult> part_limits(const PartsResult& parts, const Heater& heater);

}  // namespace cw
