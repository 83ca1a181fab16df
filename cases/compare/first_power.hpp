#pragma once

#include <vector>

#include "cases/case.hpp"
#include "cases/compare/power_up.hpp"
#include "solver/outcome/parts_result.hpp"

namespace cw::cases {

/// The readings of a sound heater, and how the tolerances of the parts change them.
struct Expectation {
  ReadingValues value;
  /// Relative change (of the logarithm) of each reading when a part is at the end of its tolerance:
  /// capacitance, gap, permeability, resistivity; zero where it has no effect.
  std::array<std::array<double, reading_count>, 4> by_part = {};
};

/// Solves the sound heater, empty and loaded, and once more with each part at the end of its
/// tolerance. Effort::fast is enough for differences. The case must have a tank that rings.
Expectation expect_readings(const Case& subject);

/// For the result: value and range, with the tolerances of the parts added in squares.
std::vector<ReadingResult> commissioning_readings(const Expectation& expected);

/// The same for a case, empty for a bench drive. Solves some six fields on the coarse mesh.
std::optional<CommissioningResult> commissioning_of(const Case& subject);

}  // namespace cw::cases
