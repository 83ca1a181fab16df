#include "tests/published/check.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

namespace cw::published {

namespace {

/// One line a check: test, file, line, value, expected, tolerance.
void record(double value, double expected, double tolerance, const std::source_location& where) {
  const char* book = std::getenv("COILWRIGHT_CHECKS");
  const auto* test = testing::UnitTest::GetInstance()->current_test_info();
  if (book == nullptr || test == nullptr) return;
  if (std::FILE* out = std::fopen(book, "a")) {
    std::fprintf(out, "%s.%s\t%s\t%u\t%.12g\t%.12g\t%g\n", test->test_suite_name(), test->name(),
                 std::filesystem::path(where.file_name()).filename().c_str(), where.line(), value,
                 expected, tolerance);
    std::fclose(out);
  }
}

}  // namespace

void expect_relative(double value, double expected, double tolerance, std::source_location where) {
  record(value, expected, tolerance, where);
  EXPECT_NEAR(value, expected, tolerance * std::abs(expected))
      << "at " << where.file_name() << ":" << where.line() << ", relative error "
      << value / expected - 1;
}

}  // namespace cw::published
