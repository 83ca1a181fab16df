#include "solver/circuit/part_value.hpp"

#include <fmt/core.h>

#include <cmath>
#include <stdexcept>

namespace cw {

void require_not_negative(const char* what, double value, const char* example) {
  if (std::isfinite(value) && value >= 0.0) return;
  throw std::invalid_argument(
      fmt::format("{} is {:.6g}; it must be zero or more: write {}", what, value, example));
}

}  // namespace cw
