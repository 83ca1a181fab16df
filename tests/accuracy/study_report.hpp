#pragma once

#include <string>

#include "tests/accuracy/study_row.hpp"

namespace cw::accuracy {

/// The largest difference from the truth that an effort promises: 1 % fast, 0.2 % normal, 0.03 %
/// fine.
double contract(const std::string& effort);

/// Compares the rows of `effort` with those of "reference", as text: share solved, accuracy
/// reached, coverage of the stated errors, cost, in total and by class; what was refused and what
/// failed, with seeds; the worst cases. Rows of cases that the generator now draws differently are
/// counted and left out.
std::string study_report(const Rows& rows, const std::string& effort);

}  // namespace cw::accuracy
