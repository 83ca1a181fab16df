#pragma once

#include <string_view>

#include "materials/entry_section.hpp"

namespace cw {

/// A property as a function of temperature. Forms of the entry:
/// - "0.17 uohm m": a constant; for a resistivity also "insulator"
/// - { value = "0.17 uohm m", source = ".." }: a constant with its source
/// - { T = ["20 degC", ..], value = ["0.17 uohm m", ..] }: a table
/// - { T = [20, ..], T_unit = "degC", value = [0.17, ..], unit = "uohm m" }: a table
/// - { pieces = [ { from = "20 degC", to = "600 degC", form = "polynomial", c = [425, 1] }, .. ] }
/// - a list of such tables: several sources, merged and sorted by temperature
/// Every table may have source, provenance ("read", "recalled, not checked", "user") and
/// uncertainty (relative, 0.05 or "5 %"). The numbers in c are in SI units of the property, with t
/// in degC, see `Piece`.
Law read_law(const EntrySection& s, std::string_view key, Dimension dimension);

}  // namespace cw
