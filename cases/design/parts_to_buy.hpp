#pragma once

#include <string>
#include <vector>

#include "cases/design/find_designs.hpp"

namespace cw::cases {

/// What is not on the shelf, with what it has to stand in the hardest of the designs and a quarter
/// more (common practice, no source): "two switches for 120 V or more", "a supply of 24 V that
/// gives 10 A". Empty where nothing was offered.
std::vector<std::string> parts_to_buy(const ShelfCase& shelf, const FoundDesigns& found);

}  // namespace cw::cases
