#pragma once

#include <string>
#include <vector>

#include "cases/sweep/design.hpp"

namespace cw::cases {

// What of a design stands as JSON in its row of the store. What reads throws std::exception where
// the text is damaged; the store says where.

/// Keys and values, in the order of the sweep.
std::string stored(const std::vector<Change>& changes);
std::vector<Change> changes_of(const std::string& text);

/// Throws where the ranking would stumble over a result.
void require_whole(const DesignOutcome& outcome);

/// Worst verdict in a result; empty where nothing was judged.
std::string verdict_of(const std::string& result);

}  // namespace cw::cases
