#include "tests/published/check.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

namespace cw::published {

namespace {

using Complex = std::complex<double>;

/// What one line of the book says, and where the check stands.
struct Check {
  const char* kind;  ///< relative, within, at_least or at_most
  Complex value, expected;
  double tolerance;
  std::source_location where;
};

/// One line a check: test, file, line, kind, value, expected (real and imaginary), tolerance.
void record(const Check& check) {
  const char* book = std::getenv("COILWRIGHT_CHECKS");
  const auto* test = testing::UnitTest::GetInstance()->current_test_info();
  if (book == nullptr || test == nullptr) return;
  if (std::FILE* out = std::fopen(book, "a")) {
    std::fprintf(out, "%s.%s\t%s\t%u\t%s\t%.12g\t%.12g\t%.12g\t%.12g\t%g\n",
                 test->test_suite_name(), test->name(),
                 std::filesystem::path(check.where.file_name()).filename().c_str(),
                 check.where.line(), check.kind, check.value.real(), check.value.imag(),
                 check.expected.real(), check.expected.imag(), check.tolerance);
    std::fclose(out);
  }
}

testing::Message place(const std::source_location& where) {
  return testing::Message() << "at " << where.file_name() << ":" << where.line();
}

}  // namespace

void expect_relative(double value, double expected, double tolerance, std::source_location where) {
  record({"relative", value, expected, tolerance, where});
  EXPECT_NEAR(value, expected, tolerance * std::abs(expected))
      << place(where) << ", relative error " << value / expected - 1;
}

void expect_within(double value, double expected, double most, std::source_location where) {
  record({"within", value, expected, most, where});
  EXPECT_NEAR(value, expected, most) << place(where);
}

void expect_within(Complex value, Complex expected, double most, std::source_location where) {
  record({"within", value, expected, most, where});
  EXPECT_LE(std::abs(value - expected), most)
      << place(where) << ", found " << value << ", expected " << expected;
}

void expect_at_least(double value, double least, std::source_location where) {
  record({"at_least", value, least, 0, where});
  EXPECT_GE(value, least) << place(where);
}

void expect_at_most(double value, double most, std::source_location where) {
  record({"at_most", value, most, 0, where});
  EXPECT_LE(value, most) << place(where);
}

}  // namespace cw::published
