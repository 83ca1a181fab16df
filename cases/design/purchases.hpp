#pragma once

#include <vector>

#include "cases/design/coil_rank.hpp"

namespace cw::cases {

/// What to buy where nothing on the shelf does the work: another supply, cans, conductor. Each is
/// searched for its best coil and bank, and heated at low effort; best first, three at most.
std::vector<Purchase> find_purchases(const ShelfCase& shelf, KnownCoils& known,
                                     const DesignSearchOptions& options);

}  // namespace cw::cases
