#pragma once

#include <string>
#include <string_view>

namespace cw::cases {

/// The library as a table, one line a material, at most 80 columns.
std::string material_table();

/// One material, by library name or by the path of a file: every value with its range and source,
/// wrapped at 80 columns. Throws MaterialError.
std::string material_sheet(std::string_view name_or_path);

}  // namespace cw::cases
