#pragma once

#include <vector>

#include "solver/outcome/cooling_result.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Water that leaves hotter than this is hard on hoses and hands; common practice, no source.
inline constexpr Temperature hose_limit = Temperature::celsius(60.0);

/// Rows for the tube and its water. What physics limits is always judged: boiling, soft solder; the
/// pump where its pressure is given. Shares of a temperature count from the inlet or the
/// surroundings, not from absolute zero. Watch beside that: an outlet above 60 degC, water faster
/// than 3 m/s (erosion of copper), less than 20 s from loss of flow to boiling: common practice, no
/// source.
std::vector<LimitResult> cooling_limits(const CoolingResult& cooling);

}  // namespace cw
