#pragma once

#include <functional>

#include "solver/heater/heater.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

struct RemedySearch {
  /// Called before every run: how many have begun, of how many at most. Runs are parallel, but the
  /// calls are not.
  std::function<void(int, int)> trying = {};
  /// Called before and during every run, from any thread. If it returns true, the search ends with
  /// what was found.
  std::function<bool()> enough = {};
};

/// Changes that would help a heater that does not do its job within its limits, best first. Every
/// candidate is solved at low effort. The most promising are heated, and pairs of them if one
/// change is not enough. The list holds only changes that help: they reach the target, or end
/// hotter, or keep more limits, and exceed no limit that was kept before.
std::vector<Remedy> find_remedies(const Heater& heater, const Result& result,
                                  const RemedySearch& search = {});

}  // namespace cw
