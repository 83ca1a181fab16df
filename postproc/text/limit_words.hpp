#pragma once

#include <string>
#include <string_view>

#include "solver/outcome/result.hpp"

namespace cw {

/// What a key of LimitResult::quantity means, for people: "current_rms_A" is a current in A rms.
struct LimitQuantity {
  std::string words;  ///< "current"
  std::string unit;  ///< "A"; "K" and "m" are to be shown as degC and mm, "kelvin" is a difference;
                     ///< empty: a bare number
  std::string tail;  ///< behind the unit: "rms", "peak", "per mm of its girth"; may be empty
  double scale = 1.0;     ///< times the value gives it in `unit`
  bool at_least = false;  ///< the limit is the least allowed, not the most
};
LimitQuantity limit_quantity(std::string_view key);

/// Value and limit with their unit: "current 7.83 A rms, limit 9.00 A"; "no limit given" without
/// one.
std::string limit_words(const LimitResult& limit);

}  // namespace cw
