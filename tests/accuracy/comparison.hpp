#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tests/accuracy/study_row.hpp"

namespace cw::accuracy {

/// One figure of one case compared with the reference.
struct Difference {
  std::string quantity;            ///< "inductance", "coil", "body"
  double off = 0.0;                ///< relative to the reference
  std::optional<double> estimate;  ///< stated error; unset if there is none
  [[nodiscard]] bool covered() const { return !estimate || off <= *estimate; }
};

/// A case at the requested effort with its reference.
struct ComparedCase {
  RandomCase drawn;
  Row row;
  std::optional<Row> reference;  ///< unset if none was tried
  bool reached = true;           ///< the reference is as accurate as it should be
  std::vector<Difference> differences;

  [[nodiscard]] bool solved() const { return row.outcome == Outcome::solved; }
  [[nodiscard]] double worst() const;  ///< largest difference
};

/// Differences between two rows of one case, without powers below a thousandth of the total.
std::vector<Difference> differences(const Row& row, const Row& reference);

/// Whether every error that a reference states for the compared figures is at most a quarter of
/// what `normal` permits. A reference that misses this cannot judge.
bool reaches(const Row& reference);

struct Comparison {
  std::vector<ComparedCase> cases;
  std::size_t strangers = 0;  ///< rows of cases that the generator now draws differently
};

Comparison compare(const Rows& rows, const std::string& effort);

}  // namespace cw::accuracy
