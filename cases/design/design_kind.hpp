#pragma once

#include <array>
#include <functional>
#include <string>

namespace cw::cases {

/// What a design is best at.
enum class DesignKind { quickest, coolest_supply, least_copper };
inline constexpr std::array all_design_kinds = {DesignKind::quickest, DesignKind::coolest_supply,
                                                DesignKind::least_copper};
/// "quickest", "coolest supply", "least copper".
const char* words_of(DesignKind kind);

struct DesignSearchOptions {
  /// Called with what is being done: a stage in words, how many of how many.
  std::function<void(const std::string&, int, int)> progress = {};
  bool purchases = true;  ///< where nothing does the work: find what to buy
};

}  // namespace cw::cases
