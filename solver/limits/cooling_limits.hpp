#pragma once

#include <vector>

#include "solver/outcome/cooling_result.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Hotter water at the outlet is hard on hoses and hands; common practice, no source.
inline constexpr Temperature hose_limit = Temperature::celsius(60.0);

/// Rows for the tube and its water. Physical limits are always checked: boiling, soft solder; the
/// pump only if its pressure is given. Fractions of a temperature limit count from the inlet or the
/// surroundings, not from absolute zero. The verdict is also `watch` for an outlet above 60 degC,
/// water faster than 3 m/s (erosion of copper), and less than 20 s from loss of flow to boiling:
/// common practice, no source.
std::vector<LimitResult> cooling_limits(const CoolingResult& cooling);

}  // namespace cw
