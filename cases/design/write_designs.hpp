#pragma once

#include <filesystem>

#include "cases/design/find_designs.hpp"

namespace cw::cases {

/// Writes the case file of every design offered, a table of all of them and the result of the first
/// into `directory`; see replace_result_directory(). Nothing where none was found.
void write_designs(const ShelfCase& shelf, const FoundDesigns& found,
                   const std::filesystem::path& directory);

}  // namespace cw::cases
