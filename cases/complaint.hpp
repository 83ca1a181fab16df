#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "cases/case.hpp"

namespace cw::cases {

/// One mistake: its place and key, what was found, what is allowed and what to write.
struct Complaint {
  TextPlace at;
  std::string key;  ///< dotted; may be empty
  std::string text;
};

/// `file:line:column: key: text`, or `--set key: text` for a value that is not from the file;
/// control characters become '?'.
std::string as_line(const std::string& file, const Complaint& complaint);

/// Complaints as lines, in the order of the file.
std::vector<std::string> as_lines(const std::string& file, std::vector<Complaint> complaints);

/// In the order of the file.
std::vector<Complaint> in_order(std::vector<Complaint> complaints);

/// Name of a case from standard input.
inline constexpr std::string_view standard_input = "-";

/// Thrown for a case file that cannot be used. Every mistake is one line `file:line:column: key:
/// found ...; allowed: ...; write ...`, in the order of the file; what() has all of them.
class CaseError : public std::runtime_error {
 public:
  explicit CaseError(std::vector<std::string> messages);
  [[nodiscard]] const std::vector<std::string>& messages() const { return messages_; }

 private:
  std::vector<std::string> messages_;
};

/// Throws CaseError if the drive has no supply. `who`: "a supply is chosen for a".
void require_supply(const Case& subject, std::string_view who);

/// A CaseError all of whose mistakes have a place.
class LocatedCaseError : public CaseError {
 public:
  LocatedCaseError(const std::string& file, std::vector<Complaint> complaints);
  /// In the order of the file.
  [[nodiscard]] const std::vector<Complaint>& complaints() const { return complaints_; }

 private:
  std::vector<Complaint> complaints_;
};

}  // namespace cw::cases

namespace cw {
using cases::CaseError;
}  // namespace cw
