#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cases/check/findings.hpp"

namespace cw::cases {

/// A value and what is plausible for it. The limits are wide: they catch slips of unit and sign,
/// not taste (common practice, no source).
struct Range {
  std::string key;
  std::optional<double> value;
  double low, high;
  Dimension dimension;
};

/// Complains of every value outside its range, and names the slip of a prefix where that explains
/// it.
void check_ranges(Findings& findings, const std::vector<Range>& ranges);

}  // namespace cw::cases
