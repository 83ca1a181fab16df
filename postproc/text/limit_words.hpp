#pragma once

#include <string>
#include <string_view>

#include "solver/outcome/result.hpp"

namespace cw {

/// Meaning of a key of LimitResult::quantity in words: "current_rms_A" is a current in A rms.
struct LimitQuantity {
  std::string words;  ///< "current"
  std::string unit;  ///< "A"; "K" and "m" are to be shown as degC and mm, "kelvin" is a difference;
                     ///< empty: a pure number
  std::string tail;  ///< follows the unit: "rms", "peak", "per mm of its girth"; may be empty
  double scale = 1.0;     ///< factor from the value to `unit`
  bool at_least = false;  ///< the limit is a minimum, not a maximum
};
LimitQuantity limit_quantity(std::string_view key);

/// Value and limit with their unit: "current 7.83 A rms, limit 9.00 A"; "no limit given" if there
/// is none.
std::string limit_words(const LimitResult& limit);

}  // namespace cw
