#pragma once

#include <string>

#include "cases/design/find_designs.hpp"

namespace cw::cases {

/// What was found, for the terminal: the answer first, at most 80 columns.
/// What the designs are built with: "what is on the shelf", "a supply of 24 V and 10 A, the least
/// that was found".
std::string base_of(const FoundDesigns& found);

std::string design_text(const ShelfCase& shelf, const FoundDesigns& found);

/// "8 turns, bore 18 mm, pitch 7 mm, 6 cans"
std::string words_of(const ShelfCase& shelf, const Choice& choice);

}  // namespace cw::cases
