#pragma once

#include <string>
#include <vector>

#include "cases/case.hpp"
#include "cases/complaint.hpp"

namespace cw::cases {

/// What is wrong (the case must not be solved) and what is doubtful, one line each in the order of
/// the file: `file:line:column: key: found ...; allowed: ...; write ...`.
struct CheckResult {
  std::vector<std::string> errors, warnings;
};

/// The same with places and keys apart.
struct LocatedFindings {
  std::vector<Complaint> errors, warnings;
};

/// Physical plausibility of a case: sizes, turns, outlines, clearances, temperatures, frequency,
/// mesh size. All problems at once; takes milliseconds and solves nothing.
CheckResult check_case(const Case& subject);
LocatedFindings findings_of(const Case& subject);

}  // namespace cw::cases

namespace cw {
using cases::check_case;
using cases::CheckResult;
}  // namespace cw
