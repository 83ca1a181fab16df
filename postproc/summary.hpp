#pragma once

#include <string>

#include "postproc/result.hpp"

namespace cw {

/// The result as text for a terminal: ASCII labels, at most 80 columns, three significant figures.
/// Ends with the cautions, which nothing switches off.
std::string summary(const Result& result);

/// One sentence when little of the power reaches the work, else empty.
std::string match_verdict(const StateResult& state);

}  // namespace cw
