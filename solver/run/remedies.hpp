#pragma once

#include <functional>

#include "solver/heater/heater.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

struct RemedySearch {
  /// Told before every run: how many have begun, of how many at most. Runs go on at the same time,
  /// but calls come one after the other.
  std::function<void(int, int)> trying = {};
  /// Asked before and during every run, from any thread; true ends the search with what was found.
  std::function<bool()> enough = {};
};

/// What would help a heater that does not do its job within its limits, best first. Every candidate
/// is solved at low effort; the most promising are heated, and so are pairs of them where one
/// change is not enough. Only what helps stands in the list: it reaches the target, or ends hotter,
/// or keeps more limits, and passes no limit that was kept.
std::vector<Remedy> find_remedies(const Heater& heater, const Result& result,
                                  const RemedySearch& search = {});

}  // namespace cw
