#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tests/accuracy/study_row.hpp"

namespace cw::accuracy {

/// One result of one case against the reference.
struct Difference {
  std::string quantity;            ///< "inductance", "coil", "body"
  double off = 0.0;                ///< relative to the reference
  std::optional<double> estimate;  ///< stated; unset where nothing is
  [[nodiscard]] bool covered() const { return !estimate || off <= *estimate; }
};

/// A case at the asked effort with its reference.
struct ComparedCase {
  RandomCase drawn;
  Row row;
  std::optional<Row> reference;  ///< unset where none was tried
  bool reached = true;           ///< the reference is as near as it is meant to be
  std::vector<Difference> differences;

  [[nodiscard]] bool solved() const { return row.outcome == Outcome::solved; }
  [[nodiscard]] double worst() const;  ///< largest difference
};

/// Differences between two rows of one case; powers below a thousandth of the total are aside.
std::vector<Difference> differences(const Row& row, const Row& reference);

/// Whether every error that a reference states for what is compared is a quarter of what `normal`
/// allows or less: what it did not reach itself it cannot judge.
bool reaches(const Row& reference);

struct Comparison {
  std::vector<ComparedCase> cases;
  std::size_t strangers = 0;  ///< rows of cases that are drawn otherwise today
};

Comparison compare(const Rows& rows, const std::string& effort);

}  // namespace cw::accuracy
