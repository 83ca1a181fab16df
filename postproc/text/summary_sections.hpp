#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

// Sections of the terminal summary, at most 80 columns; empty if there is nothing to say.

/// A label, its value and a note: one line, or two if the note is long.
std::string summary_row(const std::string& label, const std::string& value,
                        const std::string& note = "");

/// "820 degC"
std::string degrees(Temperature t);

/// Several states side by side, one column each (five states fit).
std::string state_table(const Result& result);

/// A sentence that names the states which the heating never reaches; empty if it reaches all.
std::string states_not_met(const Result& result);

/// The heating run: whether and when the target was reached, the stall temperature, and where the
/// energy went.
std::string heat_table(const HeatResult& heat);

std::string cooling_text(const CoolingResult& cooling);

/// The stray field at every distance, and the keep-out distance by every level.
std::string exposure_text(const ExposureResult& exposure);

/// The parts to wind, mount and cool.
std::string parts_text(const PartsResult& parts);

/// The expected readings of the meters.
std::string commissioning_text(const CommissioningResult& commissioning);

}  // namespace cw
