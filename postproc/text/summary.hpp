#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// Stands below what would help.
inline constexpr const char* ratings_not_given =
    "Only ratings that the case gives were judged: look at the others before you change anything.";

/// The result as text for a terminal: ASCII labels, at most 80 columns, three significant figures.
/// Ends with the cautions, which nothing switches off.
std::string summary(const Result& result);

/// What the run warns of; what it says of several states stands once, with all their names.
std::vector<std::string> merged_warnings(const Result& result);

/// What to say about where the power goes: a poor match when little of it reaches workpiece and
/// bodies together; where it goes when bodies that need not be hot take more than the work; else
/// empty, as without a workpiece.
std::string match_verdict(const StateResult& state);

}  // namespace cw
