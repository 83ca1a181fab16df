#pragma once

#include <source_location>

namespace cw::published {

/// `value` within the relative `tolerance` of `expected`. Every check is also a row of the
/// verification book: appended to the file that the environment variable COILWRIGHT_CHECKS names,
/// when it is set.
void expect_relative(double value, double expected, double tolerance = 1e-6,
                     std::source_location where = std::source_location::current());

}  // namespace cw::published
