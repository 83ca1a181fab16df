#pragma once

#include <vector>

#include "cases/design/find_designs.hpp"

namespace cw::cases {

/// What to buy if nothing on the shelf does the work: another supply, cans, conductor. The best
/// coil and bank for each are searched and heated at low effort; best first, at most three. `seen`:
/// what the heating runs on this shelf have taught.
std::vector<Purchase> find_purchases(const ShelfCase& shelf, KnownCoils& known,
                                     const Experience& seen, const DesignSearchOptions& options);

}  // namespace cw::cases
