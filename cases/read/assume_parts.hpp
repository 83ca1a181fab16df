#pragma once

#include "cases/read/reading.hpp"

namespace cw::cases {

/// Gives what a case leaves out and needs a value the parts that are commonly fitted: the bank's
/// dissipation factor, the feed chokes, what chokes and transistors resist. check_case() tells each
/// of them. No rating is assumed, nor what a supply gives.
void assume_parts(const Reading& reading, Case& to);

/// Inductance of a feed choke that is commonly fitted to a coil of this size [H].
double usual_choke(const Coil& coil);

}  // namespace cw::cases
