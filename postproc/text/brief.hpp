#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// Whether the answer is good or bad, for a terminal that shows colours.
enum class Tone { plain, good, doubtful, bad };

/// A result for one look at a terminal: lines of at most 80 columns, each ended by a newline.
struct BriefSummary {
  std::string title;  ///< one line
  /// The answer in the words of the page; without a target, where the power goes.
  std::string verdict;
  Tone tone = Tone::plain;
  /// What gives out first, the figures, cautions, what would help; does not begin with an empty
  /// line.
  std::string rest;
};

/// All three together have at most `most` lines; surplus figures are left out, beginning with the
/// last. `remedy` names the file with the first of the remedies; empty: there is none.
BriefSummary brief(const Result& result, const std::string& remedy, std::size_t most);

/// Only the answer, without what holds the heater back; for scripts.
std::string brief_verdict(const Result& result);

/// The most important figures first, a line each: with a heating run its time and temperatures,
/// with a tank its resonance, else the coil at its terminals.
std::vector<std::string> brief_figures(const Result& result);

}  // namespace cw
