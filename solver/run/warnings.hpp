#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"
#include "solver/run/solve_states.hpp"

namespace cw {

/// What the states' figures alone do not say: saturation, harmonics, properties beyond their data,
/// a supply that stops. States with the same trouble say it once, by name.
void warn_of_states(const Heater& heater, const std::vector<StateResult>& states,
                    std::vector<std::string>& warnings);

/// Figures whose accuracy misses what was asked for, and the place that is too hard.
void warn_of_accuracy(const SolvedState& state, std::vector<std::string>& warnings);

/// What the heating run found that its figures alone do not say.
void warn_of_heating(const HeatResult& heat, std::vector<std::string>& warnings);

}  // namespace cw
