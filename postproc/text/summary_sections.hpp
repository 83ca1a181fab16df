#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

// Sections of the terminal summary, at most 80 columns; empty where there is nothing to say.

/// A label, its value and what to say of it: a line, or two where the note is long.
std::string summary_row(const std::string& label, const std::string& value,
                        const std::string& note = "");

/// "820 degC"
std::string degrees(Temperature t);

/// Several states side by side, one column each (five states fit).
std::string state_table(const Result& result);

/// Which states the heating never comes to, in a sentence; empty where it comes to all.
std::string states_not_met(const Result& result);

/// The heating run: whether and when the target was reached, where it would stall, and where the
/// energy went.
std::string heat_table(const HeatResult& heat);

std::string cooling_text(const CoolingResult& cooling);

/// The stray field at every distance, and how far to stay by every level.
std::string exposure_text(const ExposureResult& exposure);

/// The parts to wind, mount and cool.
std::string parts_text(const PartsResult& parts);

/// What the meters should show.
std::string commissioning_text(const CommissioningResult& commissioning);

}  // namespace cw
