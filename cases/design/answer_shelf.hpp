#pragma once

#include "cases/design/find_designs.hpp"

namespace cw::cases {

/// What a shelf is good for: the shelf with what is to be bought for it, and the designs on it.
struct ShelfAnswer {
  ShelfCase shelf;
  FoundDesigns found;
};

/// Designs for a shelf. Where a supply is to be bought, those on the least one that does the work:
/// of 12 to 60 V and 5 to 60 A, the smallest by its power whose designs, solved as `coilwright run`
/// does it, reach the target. Where cans are to be bought, as many as help.
ShelfAnswer answer_shelf(const ShelfCase& shelf, const DesignSearchOptions& options = {});

}  // namespace cw::cases
