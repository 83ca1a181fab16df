#pragma once

#include <vector>

#include "postproc/result/result.hpp"

namespace cw {

/// What a data sheet or a wish says of the parts; empty: value only.
struct PartRatings {
  std::optional<Temperature> junction;      ///< of the switch
  std::vector<std::optional<double>> rise;  ///< [K] for each conductor, in the order of the result
  std::optional<double> core_saturation;    ///< flux density of the choke's core [T]
};

/// Rows for the parts round the coil: those of data sheets where given, soft solder always.
std::vector<LimitResult> part_limits(const PartsResult& parts, const PartRatings& ratings,
                                     Temperature room);

}  // namespace cw
