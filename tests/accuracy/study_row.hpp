#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tests/accuracy/random_case.hpp"

namespace cw::accuracy {

enum class Outcome { solved, refused, failed };

/// One result of a case with the relative error stated for it.
struct Figure {
  std::string name;                ///< "inductance", "coil", else a body
  double value = 0.0;              ///< [H], [W]
  std::optional<double> estimate;  ///< unset where none is stated
};

/// The outcome of one case at one effort: a line of the file of a study.
struct Row {
  std::uint64_t seed = 0;
  std::string text_hash;  ///< of the case: identifies rows of another generator
  std::string effort;     ///< "fast", "normal", "fine", "reference"
  Outcome outcome = Outcome::failed;
  int unknowns = 0;
  double seconds = 0.0;  ///< of processor
  std::vector<Figure> figures = {};
  std::string message = {};  ///< why it was refused or failed
};

/// Hash of the text of a case, sixteen hexadecimal digits.
std::string text_hash(const std::string& text);

/// Reads, checks and solves a case; never throws.
Row solve_row(const RandomCase& drawn, const std::string& effort);

/// One line without its end.
std::string as_line(const Row& row);
/// Nothing for an incomplete row, such as the last line of a run that was killed.
std::optional<Row> row_of(const std::string& line);

/// The rows of a file by seed and effort; for duplicates the later. Empty if there is no file.
using Rows = std::map<std::pair<std::uint64_t, std::string>, Row>;
Rows read_rows(const std::filesystem::path& file);

/// Appends lines and synchronises each to disk; begins a new file with a heading.
class RowFile {
 public:
  explicit RowFile(std::filesystem::path file);  ///< empty: nothing is written
  void append(const Row& row) const;

 private:
  void put(const std::string& text) const;
  std::filesystem::path file_;
};

}  // namespace cw::accuracy
