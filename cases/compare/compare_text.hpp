#pragma once

#include <string>

#include "cases/compare/likely_cause.hpp"

namespace cw::cases {

/// The comparison for the terminal, within 80 columns: the readings beside those of a sound heater,
/// the verdict, and the causes by how well they fit.
std::string compare_text(const Case& subject, const Measured& measured, const Expectation& expected,
                         const Comparison& found);

}  // namespace cw::cases
