#pragma once

#include <filesystem>
#include <string>

#include "cases/design/choice.hpp"
#include "cases/design/find_designs.hpp"

namespace cw::cases {

/// The case file of a design, to stand in `directory`: the shelf file as it was written, its
/// comments too, with the choice in it and a [sweep] round it. What was assumed of the work is
/// written out. Throws std::runtime_error where the file cannot take a value, and says which.
std::string design_case(const ShelfCase& shelf, const OfferedDesign& design,
                        const std::filesystem::path& directory);

/// "quickest.toml"
std::string file_of(const OfferedDesign& design);

}  // namespace cw::cases
