#pragma once

#include "cases/read/reading.hpp"

namespace cw::cases {

/// Fills in values that a case leaves out with those of usual parts: the bank's dissipation factor,
/// the feed chokes, the resistances of chokes and transistors. check_case() reports each of them.
/// Ratings and supplies are never assumed.
void assume_parts(const Reading& reading, Case& to);

/// Usual inductance of a feed choke for a coil of this size [H].
double usual_choke(const Coil& coil);

}  // namespace cw::cases
