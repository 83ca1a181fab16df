#pragma once

#include <string>

#include "cases/design/find_designs.hpp"

namespace cw::cases {

/// The designs side by side as one page; where none does the work, the nearest and what to buy.
std::string design_page(const ShelfCase& shelf, const FoundDesigns& found);

}  // namespace cw::cases
