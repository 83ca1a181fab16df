#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// Warnings that the states' figures alone do not give: saturation, harmonics, properties beyond
/// their data, a supply that stops. A warning for several states appears once and names them.
void warn_of_states(const Heater& heater, const std::vector<StateResult>& states,
                    std::vector<std::string>& warnings);

/// Warns of figures that miss the requested accuracy, and names the place that causes it.
void warn_of_accuracy(const SolvedState& state, std::vector<std::string>& warnings);

/// Warnings about the heating run that its figures alone do not give.
void warn_of_heating(const HeatResult& heat, std::vector<std::string>& warnings);

}  // namespace cw
