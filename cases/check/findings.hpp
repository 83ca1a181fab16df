#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "cases/complaint.hpp"
#include "cases/wording.hpp"

namespace cw::cases {

/// Collects the findings of the checks of a case.
struct Findings {
  const Case& subject;
  std::vector<Complaint> errors = {}, warnings = {};
  void error(const std::string& key, std::string text) {
    errors.push_back({subject.where.of(key), key, std::move(text)});
  }
  void warn(const std::string& key, std::string text) {
    warnings.push_back({subject.where.of(key), key, std::move(text)});
  }
};

/// Smaller distances cannot sensibly be meshed or wound [m].
inline constexpr double smallest_gap = 0.05e-3;

/// A length [m] in millimetres.
inline std::string mm(double length) {
  return in_words(length, Dimension::length);
}

// The checks, one subject each. Sizes come first: the others rely on turns and sizes in range.

/// Whether a section of the case was read without a mistake, or is missing.
using SoundSection = std::function<bool(std::string_view)>;

/// Runs all checks for which the required sections are free of mistakes.
void check_sound_sections(Findings& findings, const SoundSection& sound);

void check_sizes(Findings& findings);
void check_winding(Findings& findings);
void check_outlines(Findings& findings);
void check_temperatures(Findings& findings);
void check_circuit(Findings& findings);
void check_frequency(Findings& findings);
void check_parts(Findings& findings);
/// Reports values that were assumed because the case leaves them out; comes last.
void check_assumed(Findings& findings);

}  // namespace cw::cases
