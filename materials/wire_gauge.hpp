#pragma once

#include <string_view>

#include "materials/units.hpp"

namespace cw {

/// Whether a text names a wire by its gauge, correctly or not: "AWG 12", "4/0 swg".
bool names_gauge(std::string_view text);

/// Bare diameter [m] of the wire of a gauge, or what is wrong with it: "AWG 12", "12 AWG", "SWG
/// 3/0", "AWG 000"; capitals and blanks do not matter.
///
/// AWG 4/0 to 56: 0.127 mm x 92^((36 - n)/39), n/0 counting as 1 - n. Source: ASTM B258 (formula
/// and range from memory); its tables print the diameters to four figures, no more than 0.1 mil.
/// SWG 7/0 to 50: table in thousandths of an inch. Source: BS 3737:1964, as printed in engineering
/// handbooks.
Parsed parse_gauge(std::string_view text);

}  // namespace cw
