#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// Whether the heating run does the job, in one sentence: "No: heating stops at 737 degC, 83 K
/// short of the 820 degC wanted." Empty without a heating run.
std::string heat_verdict_words(const Result& result);

/// What to change where the target is not reached, the strongest first, a sentence each, with the
/// figures of this run; empty where it is reached. Voltages and currents in it are estimates: loss
/// grows as the difference of fourth powers of temperatures (radiation), power as the square.
std::vector<std::string> heat_advice(const Result& result);

}  // namespace cw
