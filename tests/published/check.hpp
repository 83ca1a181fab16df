#pragma once

#include <complex>
#include <source_location>

namespace cw::published {

// Every check below is also a row of the verification book: appended to the file that the
// environment variable COILWRIGHT_CHECKS names, when it is set.

/// `value` within the relative `tolerance` of `expected`.
void expect_relative(double value, double expected, double tolerance = 1e-6,
                     std::source_location where = std::source_location::current());

/// `value` no further than `most` from `expected`, in their unit.
void expect_within(double value, double expected, double most,
                   std::source_location where = std::source_location::current());
void expect_within(std::complex<double> value, std::complex<double> expected, double most,
                   std::source_location where = std::source_location::current());

/// `value` no less than `least`, or no more than `most`: slopes and errors under refinement.
void expect_at_least(double value, double least,
                     std::source_location where = std::source_location::current());
void expect_at_most(double value, double most,
                    std::source_location where = std::source_location::current());

}  // namespace cw::published
