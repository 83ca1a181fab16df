#pragma once

#include <span>
#include <string>
#include <string_view>

#include "materials/units.hpp"

namespace cw {

/// Words for a dimension in messages.
struct DimensionWords {
  std::string_view noun;     ///< "a length"
  std::string_view si;       ///< SI unit, also readable by the unit database
  std::string_view example;  ///< "25 mm"
  std::string_view units;    ///< usual units, comma separated: "mm, cm, m, um, in, ft"
};

const DimensionWords& words_of(Dimension d);

/// The name of a unit symbol in the unit database, empty for a symbol that is not used here. A
/// closed list: many of the database's several thousand spellings have another meaning than
/// expected (a = are, t = tonne, Pm = petametre, d = day).
std::string_view database_name(std::string_view symbol);

/// Every symbol that `database_name` knows.
std::span<const std::string> all_symbols();

}  // namespace cw
