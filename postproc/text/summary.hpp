#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// Printed below the remedies.
inline constexpr const char* ratings_not_given =
    "Only ratings that the case gives were judged: look at the others before you change anything.";

/// The result as text for a terminal: ASCII labels, at most 80 columns, three significant figures.
/// Ends with the cautions, which nothing switches off.
std::string summary(const Result& result);

/// The warnings of the run; a warning that concerns several states appears once, with all names.
std::vector<std::string> merged_warnings(const Result& result);

/// A sentence about the distribution of power: a poor match if little of it reaches workpiece and
/// bodies together; where it goes if bodies that need not be hot take more than the work; else
/// empty, and without a workpiece.
std::string match_verdict(const StateResult& state);

}  // namespace cw
