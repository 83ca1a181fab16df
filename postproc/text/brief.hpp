#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// How good the news is, for a terminal that shows colours.
enum class Tone { plain, good, doubtful, bad };

/// A result for one look at a terminal: lines of at most 80 columns, each ended by a newline.
struct BriefSummary {
  std::string title;  ///< one line
  /// The answer in the words of the page; without a target, what power goes where.
  std::string verdict;
  Tone tone = Tone::plain;
  /// What gives out first, the figures, cautions, what would help; begins with a line, not a gap.
  std::string rest;
};

/// All three together take at most `most` lines; what is over that are figures, the last first.
/// `remedy` names the file that holds the first of the remedies; empty: there is none.
BriefSummary brief(const Result& result, const std::string& remedy, std::size_t most);

/// The answer alone, without what holds it back: what a script asks for.
std::string brief_verdict(const Result& result);

/// The figures that matter, most wanted first, a line each: with a heating run its time and
/// temperatures, with a tank what rings in it, else what the coil is at its terminals.
std::vector<std::string> brief_figures(const Result& result);

}  // namespace cw
