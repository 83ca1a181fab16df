#pragma once

#include <string>
#include <vector>

#include "cases/sweep/design.hpp"

namespace cw::cases {

// Parts of a design that its row of the store holds as JSON. Reading throws std::exception if the
// text is damaged; the store adds the place.

/// Keys and values, in the order of the sweep.
std::string stored(const std::vector<Change>& changes);
std::vector<Change> changes_of(const std::string& text);

/// Throws if a result lacks what the ranking needs.
void require_whole(const DesignOutcome& outcome);

/// Worst verdict in a result; empty if no limit was checked.
std::string verdict_of(const std::string& result);

}  // namespace cw::cases
