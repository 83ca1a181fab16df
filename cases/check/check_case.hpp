#pragma once

#include <string>
#include <vector>

#include "cases/case.hpp"
#include "cases/complaint.hpp"

namespace cw::cases {

/// Errors (the case must not be solved) and doubts, one line each in the order of the file:
/// `file:line:column: key: found ...; allowed: ...; write ...`.
struct CheckResult {
  std::vector<std::string> errors, warnings;
};

/// The same, with place and key separate.
struct LocatedFindings {
  std::vector<Complaint> errors, warnings;
};

/// Checks that a case is physically plausible: sizes, turns, outlines, clearances, temperatures,
/// frequency, mesh size. Reports all problems at once; takes milliseconds and solves nothing.
CheckResult check_case(const Case& subject);
LocatedFindings findings_of(const Case& subject);

}  // namespace cw::cases

namespace cw {
using cases::check_case;
using cases::CheckResult;
}  // namespace cw
