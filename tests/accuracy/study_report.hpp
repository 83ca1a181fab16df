#pragma once

#include <string>

#include "tests/accuracy/study_row.hpp"

namespace cw::accuracy {

/// The largest difference from the truth that an effort promises: 1 % fast, 0.2 % normal, 0.03 %
/// fine.
double contract(const std::string& effort);

/// How the rows of `effort` compare with those of "reference", as text: share solved, contract met,
/// coverage of the stated errors, cost, over all and by class; what was refused and what failed,
/// with seeds; the worst. Rows of cases that the generator draws otherwise today are told and left
/// out.
std::string study_report(const Rows& rows, const std::string& effort);

}  // namespace cw::accuracy
