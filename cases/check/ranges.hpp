#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cases/check/findings.hpp"

namespace cw::cases {

/// A value and its plausible range. The limits are wide: they catch mistakes in unit and sign only
/// (common practice, no source).
struct Range {
  std::string key;
  std::optional<double> value;
  double low, high;
  Dimension dimension;
};

/// Reports every value outside its range, and suggests another prefix if that explains it.
void check_ranges(Findings& findings, const std::vector<Range>& ranges);

}  // namespace cw::cases
